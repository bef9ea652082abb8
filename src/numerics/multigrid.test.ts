import { describe, expect, it } from "vitest";
import { PolarMultigrid } from "./multigrid.ts";
import { assemble, wallFluxes } from "./polar-conductance.ts";
import { cellCount, halvingCount, type PolarGrid, uniformFaces } from "./polar-grid.ts";

/** Small generator of numbers in 0…1 for repeatable walls. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

function problem(radial: number, angular: number, axial: number, length: number, seed: number) {
  const grid: PolarGrid = { radial, angular, axial, radius: 0.02, zFaces: uniformFaces(0, length, axial) };
  const random = generator(seed);
  const faces = angular * axial;
  const wall = Float64Array.from({ length: faces }, random);
  const kappa = Float64Array.from(
    { length: cellCount(grid) },
    (_, c) => 1 + 0.5 * Math.sin(0.1 * (c % radial)),
  );
  const boundary = {
    wall,
    // Held on the wall, closed, or held behind it.
    wallDepth: Float64Array.from({ length: faces }, () =>
      random() < 0.7 ? 0 : random() < 0.5 ? Infinity : 0.02 * random(),
    ),
    ends: [undefined, undefined] as [undefined, undefined],
  };
  const solver = new PolarMultigrid(grid, [false, false]);
  assemble(solver.finest, grid, boundary, kappa, new Float64Array(faces).fill(1));
  solver.prepare(true);
  return { grid, solver, boundary, kappa };
}

describe("multigrid in the bore", () => {
  it.each([
    [12, 16, 16, 0.6],
    [24, 32, 32, 0.6],
    [24, 32, 32, 0.1],
    [24, 32, 64, 0.3],
    [48, 64, 52, 0.6],
    [24, 48, 36, 0.4],
  ])("%i × %i × %i over %f m needs at most 12 V-cycles to 1e-8 for a random wall", (nr, np, nz, length) => {
    const grid: PolarGrid = {
      radial: nr,
      angular: np,
      axial: nz,
      radius: 0.02,
      zFaces: uniformFaces(0, length, nz),
    };
    const random = generator(nr + np + nz);
    const wall = Float64Array.from({ length: np * nz }, random);
    const solver = new PolarMultigrid(grid, [false, false]);
    assemble(solver.finest, grid, {
      wall,

      ends: [undefined, undefined],
    });
    solver.prepare();
    const { cycles, residual } = solver.solve(1e-8);
    expect(residual).toBeLessThanOrEqual(1e-8);
    expect(cycles).toBeLessThanOrEqual(12);
    expect(solver.memory / cellCount(grid)).toBeLessThan(12);
  });

  it("satisfies the balance of every cell, written out face by face", () => {
    const { grid, solver, kappa, boundary } = problem(6, 8, 8, 0.1, 7);
    solver.solve(1e-12, 60);
    const { radial, angular, axial, radius, zFaces } = grid;
    const h = radius / radial;
    const s = (2 * Math.PI) / angular;
    const u = solver.solution;
    const at = (i: number, j: number, k: number): number =>
      (k * angular + ((j + angular) % angular)) * radial + i;
    const dz = zFaces[1] - zFaces[0];
    let scale = 0;
    for (let k = 0; k < axial; k++)
      for (let j = 0; j < angular; j++)
        for (let i = 0; i < radial; i++) {
          const c = at(i, j, k);
          const mean = (b: number): number => 0.5 * (kappa[c] + kappa[b]);
          let sum = 0;
          const add = (area: number, distance: number, b: number): void => {
            const flux = ((mean(b) * area) / distance) * (u[b] - u[c]);
            scale = Math.max(scale, Math.abs(flux));
            sum += flux;
          };
          const chord = 2 * Math.sin(0.5 * s) * ((2 * Math.sin(0.5 * s)) / s);
          add(h * dz, (i + 0.5) * h * chord, at(i, j + 1, k));
          add(h * dz, (i + 0.5) * h * chord, at(i, j - 1, k));
          if (i > 0) add(i * h * s * dz, h, at(i - 1, j, k));
          if (i < radial - 1) add((i + 1) * h * s * dz, h, at(i + 1, j, k));
          if (k > 0) add((i + 0.5) * h * h * s, dz, at(i, j, k - 1));
          if (k < axial - 1) add((i + 0.5) * h * h * s, dz, at(i, j, k + 1));
          const w = k * angular + j;
          if (i === radial - 1) {
            sum +=
              ((0.5 * (kappa[c] + 1) * radius * s * dz) / (0.5 * h + boundary.wallDepth[w])) *
              (boundary.wall[w] - u[c]);
          }
          expect(Math.abs(sum)).toBeLessThan(1e-9 * Math.max(scale, 1e-3));
        }
  });

  it("keeps the solution within its boundary values and balances what enters and leaves", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const { solver, boundary } = problem(8, 16, 8, 0.02 * seed, seed);
      solver.solve(1e-11, 60);
      let low = Infinity;
      let high = -Infinity;
      boundary.wall.forEach((v, w) => {
        if (boundary.wallDepth[w] < Infinity) {
          low = Math.min(low, v);
          high = Math.max(high, v);
        }
      });
      for (const v of solver.solution) {
        expect(v).toBeGreaterThanOrEqual(low - 1e-9);
        expect(v).toBeLessThanOrEqual(high + 1e-9);
      }
      const flux = new Float64Array(boundary.wall.length);
      wallFluxes(solver.finest, boundary, flux);
      let net = 0;
      let through = 0;
      for (const v of flux) {
        net += v;
        through += Math.abs(v) / 2;
      }
      expect(Math.abs(net)).toBeLessThan(1e-8 * through);
    }
  });

  it("solves again in place after the right-hand side has changed", () => {
    const { grid, solver, boundary } = problem(8, 16, 8, 0.1, 3);
    solver.solve(1e-10, 60);
    const first = solver.solution.slice();
    boundary.wall.forEach((_, w) => {
      const c = (w + 1) * grid.radial - 1;
      solver.finest.f[c] *= 2;
    });
    solver.solve(1e-10, 60);
    for (let c = 0; c < first.length; c++)
      expect(Math.abs(solver.solution[c] - 2 * first[c])).toBeLessThan(1e-7);
  });
});

describe("halvingCount", () => {
  it("gives the least count that halves down to at most 4", () => {
    expect([4, 5, 24, 25, 33, 60, 100].map(halvingCount)).toEqual([4, 6, 24, 32, 48, 64, 128]);
  });
});
