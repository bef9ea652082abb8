import { describe, expect, it } from "vitest";
import { r2Point, SOBOL_DIMENSIONS, sobolPoint } from "./low-discrepancy.ts";

describe("Sobol's sequence", () => {
  // scipy 1.17.1, stats.qmc.Sobol(d=10, scramble=False).random(8), and point 1000 by fast_forward(1000).
  const first: readonly (readonly number[])[] = [
    [0, 0, 0, 0, 0, 0, 0, 0, 0, 0],
    [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
    [0.75, 0.25, 0.25, 0.25, 0.75, 0.75, 0.25, 0.75, 0.75, 0.75],
    [0.25, 0.75, 0.75, 0.75, 0.25, 0.25, 0.75, 0.25, 0.25, 0.25],
    [0.375, 0.375, 0.625, 0.875, 0.375, 0.125, 0.375, 0.875, 0.875, 0.625],
    [0.875, 0.875, 0.125, 0.375, 0.875, 0.625, 0.875, 0.375, 0.375, 0.125],
    [0.625, 0.125, 0.875, 0.625, 0.625, 0.875, 0.125, 0.125, 0.125, 0.375],
    [0.125, 0.625, 0.375, 0.125, 0.125, 0.375, 0.625, 0.625, 0.625, 0.875],
  ];
  it("begins as published", () => {
    for (const [i, point] of first.entries()) expect(Array.from(sobolPoint(i, 10))).toEqual(point);
    expect(Array.from(sobolPoint(1000, 10))).toEqual([
      0.2197265625, 0.0966796875, 0.5185546875, 0.6767578125, 0.2802734375, 0.9072265625, 0.0458984375,
      0.8994140625, 0.5009765625, 0.0693359375,
    ]);
  });

  it("the first 256 points fill every 256th of each axis once, and every 16 × 16 square of the first two", () => {
    const points = Array.from({ length: 256 }, (_, i) => sobolPoint(i, SOBOL_DIMENSIONS));
    for (let d = 0; d < SOBOL_DIMENSIONS; d++)
      expect(new Set(points.map((p) => Math.floor(p[d] * 256))).size).toBe(256);
    expect(new Set(points.map((p) => 16 * Math.floor(p[0] * 16) + Math.floor(p[1] * 16))).size).toBe(256);
  });

  it("refuses dimensions it has no numbers for", () => {
    expect(() => sobolPoint(0, 11)).toThrow(/1 to 10/);
    expect(() => sobolPoint(0, 0)).toThrow(/1 to 10/);
  });
});

describe("R sequence", () => {
  it("steps by the golden ratio and its kin", () => {
    // M. Roberts (2018): 0.6180339887 in one dimension; 0.7548776662 and 0.5698402910 in two.
    expect(r2Point(1, 1)[0]).toBeCloseTo((0.5 + 0.6180339887) % 1, 9);
    expect(r2Point(1, 2)[0]).toBeCloseTo((0.5 + 0.7548776662) % 1, 9);
    expect(r2Point(1, 2)[1]).toBeCloseTo((0.5 + 0.569840291) % 1, 9);
    expect(Array.from(r2Point(0, 3))).toEqual([0.5, 0.5, 0.5]);
  });

  it("integrates a smooth function far better than random points do", () => {
    const n = 1000;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const [x, y] = r2Point(i, 2);
      sum += x * x * y;
    }
    expect(Math.abs(sum / n - 1 / 6)).toBeLessThan(1e-3); // random points: 6e-3
  });
});
