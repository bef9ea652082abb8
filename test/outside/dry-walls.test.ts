/**
 * Walls that are wet with metal in part, against closed forms.
 *
 * Mixed boundary in a disc: a Möbius map takes the wet arc to the positive and the dry arc to the negative real axis, the
 * square root then to the two axes of a quadrant; sums of two Poisson kernels mirrored at the dry axis solve the problem
 * with sharp edges (method: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), chapter XVI; from memory).
 *
 * A pipe dry for z > 0 and wet for z < 0: far away the field is that of a pipe longer by R Σ (1/j0n − 1/j1n), j the zeros
 * of the Bessel functions J0 and J1, by the Wiener–Hopf method (Noble, Methods Based on the Wiener–Hopf Technique (1958),
 * from memory; derived here again: with slabs instead of a pipe it gives the known 2 ln 2/π of the half width). Zeros from
 * Abramowitz & Stegun, table 9.5 (from memory).
 */
import { describe, expect, it } from "vitest";
import { PolarMultigrid } from "../../src/numerics/multigrid.ts";
import { assemble, wallFluxes } from "../../src/numerics/polar-conductance.ts";
import { type PolarGrid, sectorAngle, sliceCentre, uniformFaces } from "../../src/numerics/polar-grid.ts";
import { saturationPressure } from "../../src/medium/pressure.ts";
import { solveVapour, type VesselInput } from "../../src/vessel/index.ts";
import { wetness } from "../../src/vessel/wetness.ts";
import { besselI } from "./bessel.ts";

/** Half angle of the wet arc about the bottom, place and distance of the kernels. */
const HALF = 0.7;
const PLACE = 0.9;
const DISTANCE = 0.8;

/** The closed form at radius r of the unit disc, angle φ from the bottom. */
function mixed(r: number, phi: number): number {
  const edge = { x: Math.cos(HALF), y: Math.sin(HALF) };
  const angle = (x: number, y: number): number =>
    Math.atan2(y + edge.y, x - edge.x) - Math.atan2(y - edge.y, x - edge.x);
  const x = r * Math.cos(phi);
  const y = r * Math.sin(phi);
  const size = Math.hypot(x - edge.x, y + edge.y) / Math.hypot(x - edge.x, y - edge.y);
  const turn = 2 * Math.PI;
  const argument = ((((angle(x, y) - angle(1, 0)) % turn) + 1.5 * turn) % turn) - 0.5 * turn;
  const u = Math.sqrt(size) * Math.cos(0.5 * argument);
  const v = Math.sqrt(size) * Math.abs(Math.sin(0.5 * argument));
  const kernel = (at: number): number => (v + DISTANCE) / ((u - at) ** 2 + (v + DISTANCE) ** 2);
  return kernel(PLACE) + kernel(-PLACE);
}

/** Value on the axis and slope toward the bottom there, solved, relative to the closed form. */
function discErrors(sectors: number): { value: number; slope: number } {
  const grid: PolarGrid = {
    radial: sectors / 2,
    angular: sectors,
    axial: 4,
    radius: 1,
    zFaces: uniformFaces(0, 40, 4),
  };
  const { depth } = wetness({ strip: 2 * HALF }, grid);
  const wall = depth.map((_, w) => {
    const from = sectorAngle(grid, w % sectors) + 0.5 * Math.PI;
    const phi = from > Math.PI ? from - 2 * Math.PI : from;
    return mixed(1, Math.max(-HALF + 1e-9, Math.min(HALF - 1e-9, phi)));
  });
  const solver = new PolarMultigrid(grid, [false, false]);
  assemble(solver.finest, grid, { wall, wallDepth: depth, ends: [undefined, undefined] });
  solver.prepare(true);
  solver.solve(1e-9, 40);
  let value = 0;
  let slope = 0;
  for (let j = 0; j < sectors; j++) {
    const own = solver.solution[j * grid.radial] / sectors;
    value += own;
    slope += 4 * grid.radial * own * Math.cos(sectorAngle(grid, j) + 0.5 * Math.PI);
  }
  const step = 1e-4;
  return {
    value: value / mixed(1e-9, 0) - 1,
    slope: slope / ((mixed(step, 0) - mixed(step, Math.PI)) / (2 * step)) - 1,
  };
}

describe("a bore that is wet on one side only", () => {
  it("has the field of sharp edges, though its edges are given a width", () => {
    const { value, slope } = discErrors(128);
    expect(Math.abs(value)).toBeLessThan(0.004);
    expect(Math.abs(slope)).toBeLessThan(0.01);
  });
});

const J0 = [2.404825558, 5.52007811, 8.653727913, 11.791534439, 14.930917708, 18.071063968];
const J1 = [3.83170597, 7.01558667, 10.173468135, 13.323691936, 16.470630051, 19.61585851];

/** Σ (1/j0n − 1/j1n): the first zeros, then their asymptotic places (n ∓ ¼)π. */
function endCorrection(): number {
  let sum = 0;
  for (let n = 0; n < 200000; n++)
    sum +=
      1 / (J0[n] ?? (n + 0.75) * Math.PI + 1 / (8 * (n + 0.75) * Math.PI)) -
      1 / (J1[n] ?? (n + 1.25) * Math.PI - 3 / (8 * (n + 1.25) * Math.PI));
  return sum;
}

describe("a bore that is wet at one end only", () => {
  const RADIUS = 0.02;
  const DRY = 0.1;

  /** Length of pipe that passes the same, m, and what the held end gives less what the wall takes, of that. */
  function passes(
    rings: number,
    slices: number,
    held: (grid: PolarGrid) => Float64Array,
  ): { length: number; imbalance: number } {
    const zFaces = uniformFaces(-0.1, DRY, slices);
    const grid: PolarGrid = { radial: rings, angular: 8, axial: slices, radius: RADIUS, zFaces };
    const wallDepth = held(grid);
    const wall = new Float64Array(wallDepth.length);
    const solver = new PolarMultigrid(grid, [false, true]);
    const boundary = {
      wall,
      wallDepth,
      ends: [undefined, new Float64Array(rings * 8).fill(1)] as [undefined, Float64Array],
    };
    assemble(solver.finest, grid, boundary);
    solver.prepare(true);
    solver.solve(1e-11, 40);
    const flux = new Float64Array(wall.length);
    wallFluxes(solver.finest, boundary, flux);
    const through = -flux.reduce((a, b) => a + b, 0);
    let entered = 0;
    const half = (zFaces[slices] - zFaces[slices - 1]) / 2;
    for (let j = 0; j < 8; j++)
      for (let i = 0; i < rings; i++) {
        const area = (i + 0.5) * (RADIUS / rings) ** 2 * ((2 * Math.PI) / 8);
        entered += (area / half) * (1 - solver.solution[((slices - 1) * 8 + j) * rings + i]);
      }
    return { length: (Math.PI * RADIUS ** 2) / through, imbalance: entered / through - 1 };
  }

  it("passes what a pipe longer by the end correction passes, and what enters leaves", () => {
    const expected = DRY + RADIUS * endCorrection();
    const sharp = (grid: PolarGrid): Float64Array =>
      Float64Array.from({ length: 8 * grid.axial }, (_, w) =>
        sliceCentre(grid, Math.floor(w / 8)) < 0 ? 0 : Infinity,
      );
    // First order at a sharp edge: the straight line through two grids.
    const [coarse, fine] = [passes(12, 80, sharp), passes(24, 160, sharp)];
    expect(Math.abs((2 * fine.length - coarse.length) / expected - 1)).toBeLessThan(5e-4);
    expect(Math.abs(fine.imbalance)).toBeLessThan(1e-8);
    // The program's edge is a radius wide; it stands within a tenth of that of the sharp one.
    const soft = passes(24, 160, (grid) => wetness({ to: 0 }, grid).depth);
    expect(Math.abs(soft.length - expected)).toBeLessThan(0.1 * RADIUS);
    expect(Math.abs(soft.imbalance)).toBeLessThan(1e-8);
  });
});

describe("a value held behind the wall", () => {
  it("I1(kr) cos φ sin kz with a depth that varies along and around: error falls with order 1.9 or better", () => {
    const R = 0.02;
    const L = 0.1;
    const wave = (2 * Math.PI) / L;
    const slope = wave * (besselI(0, wave * R) - besselI(1, wave * R) / (wave * R));
    const error = (scale: number): number => {
      const grid: PolarGrid = {
        radial: 8 * scale,
        angular: 16 * scale,
        axial: 12 * scale,
        radius: R,
        zFaces: uniformFaces(0, L, 12 * scale),
      };
      const solver = new PolarMultigrid(grid, [true, true]);
      const n = grid.angular * grid.axial;
      const wall = new Float64Array(n);
      const depth = new Float64Array(n);
      for (let k = 0; k < grid.axial; k++)
        for (let j = 0; j < grid.angular; j++) {
          const phi = sectorAngle(grid, j);
          const z = sliceCentre(grid, k);
          const w = k * grid.angular + j;
          depth[w] = R * (1 + Math.sin(phi)) ** 2 * (1 + Math.cos(wave * z));
          wall[w] = (besselI(1, wave * R) + depth[w] * slope) * Math.cos(phi) * Math.sin(wave * z);
        }
      const end = new Float64Array(grid.radial * grid.angular);
      assemble(solver.finest, grid, { wall, wallDepth: depth, ends: [end, end] });
      solver.prepare(true);
      solver.solve(1e-9, 60);
      let worst = 0;
      for (let c = 0; c < solver.solution.length; c++) {
        const i = c % grid.radial;
        const j = Math.floor(c / grid.radial) % grid.angular;
        const k = Math.floor(c / (grid.radial * grid.angular));
        const exact =
          besselI(1, (wave * (i + 0.5) * R) / grid.radial) *
          Math.cos(sectorAngle(grid, j)) *
          Math.sin(wave * sliceCentre(grid, k));
        worst = Math.max(worst, Math.abs(solver.solution[c] - exact));
      }
      return worst;
    };
    const errors = [1, 2, 4].map(error);
    expect(Math.log2(errors[1] / errors[2]), errors.join(", ")).toBeGreaterThanOrEqual(1.9);
    expect(errors[2]).toBeLessThan(3e-3);
  });
});

describe("metal at one temperature only", () => {
  const TUBE: VesselInput = {
    element: "Cs",
    bore: 0.04,
    heatedLength: 0.3,
    length: 0.3,
    wall: { kind: "measured", bottom: 558, top: 470, ends: 470, hotStrip: Math.PI },
    wet: { strip: 1 },
    gas: "Ar",
    gasPressure: 2000,
  };

  it("fills the bore with one mole fraction, and the cooler dry top with more atoms than the metal's own wall", () => {
    const field = solveVapour(TUBE, { radial: 12, angular: 16, axial: 16 });
    const x = saturationPressure("Cs", 558) / 2000;
    for (const own of field.moleFraction) expect(Math.abs(own / x - 1)).toBeLessThan(1e-7);
    const middle = 8 * 16;
    expect(field.wallDensity[middle + 8] / field.wallDensity[middle]).toBeCloseTo(558 / 470, 6);
    expect(Math.max(...field.density)).toBeGreaterThan(1.1 * field.wallDensity[middle]);
  });
});
