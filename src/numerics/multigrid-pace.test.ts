import { describe, expect, it } from "vitest";
import { PolarMultigrid } from "./multigrid.ts";
import { assemble, wallFluxes } from "./polar-conductance.ts";
import { cellCount, type PolarGrid, uniformFaces } from "./polar-grid.ts";

const RADIUS = 0.02;

/** A bore of which `open` sectors at the bottom are held, from 1 to 0 along the bore, and the rest is closed. */
function strip(radial: number, angular: number, axial: number, length: number, open: number) {
  const grid: PolarGrid = { radial, angular, axial, radius: RADIUS, zFaces: uniformFaces(0, length, axial) };
  const wall = Float64Array.from({ length: angular * axial }, (_, w) => 1 - Math.floor(w / angular) / axial);
  const wallDepth = wall.map((_, w) => (w % angular < open ? 0 : Infinity));
  const boundary = { wall, wallDepth, ends: [undefined, undefined] as [undefined, undefined] };
  const solver = new PolarMultigrid(grid, [false, false]);
  assemble(solver.finest, grid, boundary);
  solver.prepare(true);
  return { grid, solver, boundary };
}

describe("solutions that come down too slowly by themselves", () => {
  it.each([
    [12, 16, 16, 0.6, 1],
    [24, 32, 32, 0.6, 1],
    [24, 32, 32, 0.1, 1],
    [24, 64, 64, 0.3, 1],
    [24, 64, 64, 0.6, 3],
    [48, 64, 64, 0.1, 2],
    // Flat discs; slices that can be halved only down to three; cells much longer one way than the other.
    [24, 32, 32, 4e-4, 32],
    [24, 32, 24, 4e-4, 32],
    [48, 64, 64, 1e-3, 5],
    [48, 16, 16, 0.04, 16],
  ])("%i × %i × %i over %f m, %i sectors held: at most 12 V-cycles to 1e-8", (nr, np, nz, length, open) => {
    const { grid, solver, boundary } = strip(nr, np, nz, length, open);
    const { cycles, residual } = solver.solve(1e-8);
    expect(residual).toBeLessThanOrEqual(1e-8);
    expect(cycles).toBeLessThanOrEqual(12);
    if (length > 3 * RADIUS) expect(solver.memory / cellCount(grid)).toBeLessThan(12);
    let [low, high] = [Infinity, -Infinity];
    for (const value of solver.solution) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    expect(low).toBeGreaterThanOrEqual(boundary.wall[boundary.wall.length - 1] - 1e-6);
    expect(high).toBeLessThanOrEqual(1 + 1e-6);
  });

  it("end where many plain cycles end, and balance what enters and leaves", () => {
    const { solver, boundary } = strip(24, 64, 32, 0.3, 1);
    const { cycles } = solver.solve(1e-13, 30);
    const own = solver.solution.slice();
    expect(cycles).toBeLessThan(25);
    const flux = new Float64Array(boundary.wall.length);
    wallFluxes(solver.finest, boundary, flux);
    const through = flux.reduce((sum, v) => sum + Math.abs(v), 0) / 2;
    expect(Math.abs(flux.reduce((sum, v) => sum + v, 0))).toBeLessThan(1e-8 * through);
    // One cycle a call is never hastened.
    for (let cycle = 0; cycle < 120; cycle++) {
      try {
        solver.solve(0, 1);
      } catch {
        // Not converged to nothing at all, as meant.
      }
    }
    const apart = own.map((value, c) => Math.abs(solver.solution[c] - value));
    expect(apart.reduce((a, b) => Math.max(a, b))).toBeLessThan(1e-9);
  });
});
