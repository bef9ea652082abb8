/**
 * Conduction and diffusion in a round bore against closed forms.
 *
 * Bessel: u = I_m(kr)/I_m(kR) cos mφ sin kz solves Laplace's equation in a cylinder (Carslaw & Jaeger, Conduction of
 * Heat in Solids, 2nd ed. (1959), chapter VIII; cited from memory). I_m: see bessel.ts.
 */
import { describe, expect, it } from "vitest";
import { PolarMultigrid } from "../../src/numerics/multigrid.ts";
import { assemble, wallFluxes } from "../../src/numerics/polar-conductance.ts";
import { type PolarGrid, sectorAngle, sliceCentre, uniformFaces } from "../../src/numerics/polar-grid.ts";
import { besselI } from "./bessel.ts";

const R = 0.02;
const L = 0.1;

function eachCell(grid: PolarGrid, visit: (c: number, r: number, phi: number, z: number) => void): void {
  const { radial, angular, axial } = grid;
  for (let k = 0; k < axial; k++)
    for (let j = 0; j < angular; j++)
      for (let i = 0; i < radial; i++)
        visit(
          (k * angular + j) * radial + i,
          ((i + 0.5) * R) / radial,
          sectorAngle(grid, j),
          sliceCentre(grid, k),
        );
}

/** Largest error of the solved field for wall cos mφ sin(nπz/L). */
function besselError(m: number, n: number, scale: number, stretched: boolean): number {
  const axial = 12 * scale;
  const faces = uniformFaces(0, L, axial);
  if (stretched) for (let k = 0; k <= axial; k++) faces[k] += 0.012 * Math.sin((2 * Math.PI * faces[k]) / L);
  const grid: PolarGrid = { radial: 8 * scale, angular: 16 * scale, axial, radius: R, zFaces: faces };
  const solver = new PolarMultigrid(grid, [true, true]);
  const wave = (n * Math.PI) / L;
  const wall = new Float64Array(grid.angular * axial);
  for (let k = 0; k < axial; k++)
    for (let j = 0; j < grid.angular; j++)
      wall[k * grid.angular + j] = Math.cos(m * sectorAngle(grid, j)) * Math.sin(wave * sliceCentre(grid, k));
  const end = new Float64Array(grid.radial * grid.angular);
  assemble(solver.finest, grid, { wall, ends: [end, end] });
  solver.prepare();
  expect(solver.solve(1e-8, 60).residual).toBeLessThanOrEqual(1e-8);
  let worst = 0;
  eachCell(grid, (c, r, phi, z) => {
    const exact = (besselI(m, wave * r) / besselI(m, wave * R)) * Math.cos(m * phi) * Math.sin(wave * z);
    worst = Math.max(worst, Math.abs(solver.solution[c] - exact));
  });
  return worst;
}

describe("Laplace's equation in a cylinder, wall cos mφ sin kz", () => {
  it.each([
    [0, 1],
    [1, 1],
    [1, 3],
    [2, 2],
    [3, 1],
  ])("m = %i, n = %i: error falls with order 1.9 or better", (m, n) => {
    for (const stretched of [false, true]) {
      const errors = [1, 2, 4].map((scale) => besselError(m, n, scale, stretched));
      const order = Math.log2(errors[1] / errors[2]);
      expect(order, `errors ${errors.join(", ")}`).toBeGreaterThanOrEqual(1.9);
      expect(errors[2]).toBeLessThan(3e-3);
    }
  });

  it("is exact for u = y", () => {
    const grid: PolarGrid = { radial: 6, angular: 12, axial: 4, radius: R, zFaces: uniformFaces(0, L, 4) };
    const solver = new PolarMultigrid(grid, [false, false]);
    const wall = Float64Array.from({ length: 48 }, (_, w) => R * Math.sin(sectorAngle(grid, w % 12)));
    assemble(solver.finest, grid, {
      wall,
      ends: [undefined, undefined],
    });
    solver.prepare();
    solver.solve(1e-13);
    eachCell(grid, (c, r, phi) => expect(solver.solution[c]).toBeCloseTo(r * Math.sin(phi), 13));
  });
});

describe("one-dimensional closed forms", () => {
  /** Field between two held ends, wall closed, with a coefficient along z. */
  function between(
    axial: number,
    first: number,
    last: number,
    kappa: (z: number) => number,
  ): [PolarGrid, Float64Array] {
    const grid: PolarGrid = { radial: 4, angular: 8, axial, radius: R, zFaces: uniformFaces(0, L, axial) };
    const solver = new PolarMultigrid(grid, [true, true]);
    const cells = new Float64Array(32 * axial);
    eachCell(grid, (c, _r, _phi, z) => (cells[c] = kappa(z)));
    const faces = 8 * axial;
    assemble(
      solver.finest,
      grid,
      {
        wall: new Float64Array(faces),
        wallDepth: new Float64Array(faces).fill(Infinity),
        ends: [new Float64Array(32).fill(first), new Float64Array(32).fill(last)],
      },
      cells,
      new Float64Array(faces),
    );
    solver.prepare();
    solver.solve(1e-12, 60);
    const flux = new Float64Array(faces);
    wallFluxes(
      solver.finest,
      {
        wall: new Float64Array(faces),
        wallDepth: new Float64Array(faces).fill(Infinity),
        ends: [undefined, undefined],
      },
      flux,
    );
    expect(Math.max(...flux.map(Math.abs))).toBe(0);
    return [grid, solver.solution];
  }

  it("Stefan flow between two planes: 1 − x is geometric along z", () => {
    // Stefan's diffusion tube: Bird, Stewart & Lightfoot, Transport Phenomena, section 18.2 (from memory).
    const x0 = 0.9;
    const xL = 0.05;
    const [grid, psi] = between(12, -Math.log(1 - x0), -Math.log(1 - xL), () => 1);
    eachCell(grid, (c, _r, _phi, z) => {
      const expected = 1 - (1 - x0) ** (1 - z / L) * (1 - xL) ** (z / L);
      expect(Math.abs(1 - Math.exp(-psi[c]) - expected)).toBeLessThan(1e-9);
    });
  });

  it("Stefan flow in a temperature gradient: ψ falls with T^(2−m), at second order", () => {
    const m = 1.75;
    const temperature = (z: number): number => 600 - 250 * (z / L);
    const s = (t: number): number => (600 ** (2 - m) - t ** (2 - m)) / (600 ** (2 - m) - 350 ** (2 - m));
    const error = (axial: number): number => {
      const [grid, psi] = between(axial, 2, 0, (z) => (temperature(z) / 300) ** (m - 1));
      let worst = 0;
      eachCell(
        grid,
        (c, _r, _phi, z) => (worst = Math.max(worst, Math.abs(psi[c] - 2 * (1 - s(temperature(z)))))),
      );
      return worst;
    };
    const coarse = error(8);
    const fine = error(16);
    expect(Math.log2(coarse / fine)).toBeGreaterThanOrEqual(1.9);
    expect(fine).toBeLessThan(1e-3);
  });
});
