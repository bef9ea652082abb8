/**
 * Conduction with a conductivity that depends on temperature or place, and heat pipes, against closed forms and tables.
 *
 * Kirchhoff's transform: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), section 1.6 (cited from memory).
 * With k ∝ T^a the potential is T^(a+1): linear through a slab, linear in ln r between concentric cylinders.
 * Heat pipe: where a metal's vapour pressure reaches the gas pressure the vapour displaces the gas (C. R. Vidal and
 * J. Cooper, J. Appl. Phys. 40, 3370 (1969), cited from memory). The temperatures at which it does are those of the CRC
 * Handbook's vapour pressure table as stored in data/vapour-pressure.json.
 */
import { describe, expect, it } from "vitest";
import pressures from "../../data/vapour-pressure.json" with { type: "json" };
import { PolarMultigrid } from "../../src/numerics/multigrid.ts";
import { assemble } from "../../src/numerics/polar-conductance.ts";
import { type PolarGrid, sectorAngle, sliceCentre, uniformFaces } from "../../src/numerics/polar-grid.ts";
import { conductivity, gasProperties } from "../../src/vessel/gas.ts";
import { kirchhoffTable, temperaturesOf } from "../../src/vessel/kirchhoff.ts";
import { solveVapour, type VesselInput } from "../../src/vessel/index.ts";

const R = 0.02;

describe("conductivity that grows with temperature", () => {
  const a = 0.7;
  const [cold, hot] = [350, 900];
  const power = (share: number): number =>
    (cold ** (a + 1) + share * (hot ** (a + 1) - cold ** (a + 1))) ** (1 / (a + 1));

  it("through a slab: T^(a+1) is linear in the solved field", () => {
    const L = 0.1;
    const grid: PolarGrid = { radial: 4, angular: 8, axial: 16, radius: R, zFaces: uniformFaces(0, L, 16) };
    const table = kirchhoffTable(cold, hot, (t) => t ** a);
    const high = table.theta[table.theta.length - 1];
    const solver = new PolarMultigrid(grid, [true, true]);
    assemble(solver.finest, grid, {
      wall: new Float64Array(128),
      wallDepth: new Float64Array(128).fill(Infinity),
      ends: [new Float64Array(32).fill(high), new Float64Array(32)],
    });
    solver.prepare();
    solver.solve(1e-13, 80);
    const t = new Float64Array(512);
    temperaturesOf(table, solver.solution, t);
    for (let k = 0; k < 16; k++) {
      const exact = power(1 - sliceCentre(grid, k) / L);
      expect(Math.abs(t[k * 32 + 5] / exact - 1)).toBeLessThan(1e-8);
    }
  });

  it("between concentric cylinders: T^(a+1) is linear in ln r", () => {
    const table = kirchhoffTable(cold, hot, (t) => t ** a);
    const high = table.theta[table.theta.length - 1];
    const radii = [0.01, 0.012, 0.016, 0.025, 0.039, 0.04];
    const share = radii.map((r) => Math.log(0.04 / r) / Math.log(4));
    const t = new Float64Array(radii.length);
    temperaturesOf(
      table,
      Float64Array.from(share, (s) => s * high),
      t,
    );
    for (const [i, s] of share.entries()) expect(Math.abs(t[i] / power(s) - 1)).toBeLessThan(1e-8);
  });

  it("on the axis of a half-hot bore the heat potential is the mean of both walls' (mean value of a harmonic)", () => {
    const tube: VesselInput = {
      element: "Cs",
      bore: 0.04,
      heatedLength: 0.8,
      length: 0.8,
      wall: { kind: "measured", bottom: 700, top: 400, ends: 550, hotStrip: Math.PI },
      gas: "He",
      gasPressure: 1e5,
    };
    const field = solveVapour(tube, { radial: 24, angular: 32, axial: 16 });
    const helium = gasProperties("He");
    // Simpson's rule, apart from the program's own table.
    const integral = (from: number, to: number): number => {
      const n = 400;
      let sum = 0;
      for (let i = 0; i <= n; i++) {
        const weight = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
        sum += weight * conductivity(helium, from + ((to - from) * i) / n);
      }
      return (sum * (to - from)) / (3 * n);
    };
    let onAxis = 0;
    const slice = (field.grid.axial >> 1) * 32 * 24;
    for (let j = 0; j < 32; j++) onAxis += field.gasTemperature[slice + j * 24] / 32;
    expect(Math.abs(integral(400, onAxis) / integral(400, 700) - 0.5)).toBeLessThan(2e-3);
  });
});

describe("concentric layers: conductivity (r/R)^2.5, wall cos 3φ", () => {
  // ∇·(r^p ∇u) = 0 with u = r^s cos mφ: s² + p s = m²; p = 2.5, m = 3 gives s = 2.
  function error(scale: number): number {
    const grid: PolarGrid = {
      radial: 8 * scale,
      angular: 24 * scale,
      axial: 2,
      radius: R,
      zFaces: uniformFaces(0, R, 2),
    };
    const { radial, angular } = grid;
    const n = radial * angular * 2;
    const kappa = Float64Array.from({ length: n }, (_, c) => (((c % radial) + 0.5) / radial) ** 2.5);
    const wall = Float64Array.from({ length: angular * 2 }, (_, w) =>
      Math.cos(3 * sectorAngle(grid, w % angular)),
    );
    const solver = new PolarMultigrid(grid, [false, false]);
    assemble(
      solver.finest,
      grid,
      { wall, ends: [undefined, undefined] },
      kappa,
      new Float64Array(wall.length).fill(1),
    );
    solver.prepare();
    solver.solve(1e-10, 200);
    let worst = 0;
    for (let c = 0; c < n; c++) {
      const r = ((c % radial) + 0.5) / radial;
      const exact = r * r * Math.cos(3 * sectorAngle(grid, Math.floor(c / radial) % angular));
      worst = Math.max(worst, Math.abs(solver.solution[c] - exact));
    }
    return worst;
  }

  it("error falls with order 1.9 or better", () => {
    const errors = [1, 2, 4].map(error);
    expect(Math.log2(errors[1] / errors[2]), `errors ${errors.join(", ")}`).toBeGreaterThanOrEqual(1.9);
    expect(errors[2]).toBeLessThan(2e-3);
  });
});

describe("heat pipes: where the vapour pressure reaches the gas pressure", () => {
  const rows = pressures.entries
    .filter(({ species }) => ["Na", "K", "Cs", "Sr"].includes(species))
    .flatMap(({ species, second_source_CRC: table }) =>
      [100, 1000].map((p) => [species, p, table.temperature_K[table.pressure_Pa.indexOf(p)]] as const),
    );

  it.each(rows)(
    "%s in %i Pa of argon: gas everywhere 3 %% below the CRC table's %i K, vapour alone 3 %% above",
    (element, p, t) => {
      const tube = (bottom: number): VesselInput => ({
        element,
        bore: 0.04,
        heatedLength: 0.4,
        length: 0.8,
        wall: { kind: "measured", bottom, top: bottom - 60, ends: 400, hotStrip: Math.PI },
        gas: "Ar",
        gasPressure: p,
      });
      const grid = { radial: 8, angular: 16, axial: 16 };
      expect(solveVapour(tube(0.97 * t), grid).regime).toBe("diffusion");
      const pipe = solveVapour(tube(1.03 * t), grid);
      expect(pipe.regime).toBe("heat-pipe");
      // Beside the hot wall nothing but vapour: N = p/(k T).
      const wall = (pipe.grid.axial >> 1) * pipe.grid.angular;
      expect(pipe.wallDensity[wall] / (p / (1.380649e-23 * 1.03 * t))).toBeCloseTo(1, 5);
    },
  );
});
