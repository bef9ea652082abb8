// @vitest-environment node
import { describe, expect, it } from "vitest";
import { nearestIndex, pathOf, powerOf } from "./scale.ts";

const box = { top: 0, bottom: 100 };
const same = (value: number): number => value;
const points = (path: string): (readonly [number, number])[] =>
  path
    .split(/[ML]/)
    .filter((part) => part !== "")
    .map((part) => part.split(" ").map(Number) as unknown as readonly [number, number]);

describe("path of a curve", () => {
  it("keeps the peak of a line far narrower than a pixel", () => {
    const n = 100_000;
    const x = Float64Array.from({ length: n }, (_, i) => (i / n) * 200);
    const y = Float64Array.from({ length: n }, (_, i) => (i === 50_123 ? 90 : 10));
    const drawn = points(pathOf(x, y, same, same, box));
    expect(Math.max(...drawn.map(([, py]) => py))).toBe(90);
    expect(drawn.length).toBeLessThan(200 * 4 * 4);
    const peak = drawn.find(([, py]) => py === 90);
    expect(peak?.[0]).toBeCloseTo(100.25, 0);
  });

  it("lifts the pen where there is no value and keeps inside the box", () => {
    const path = pathOf([1, 2, 3, 4], [5, Number.NaN, 1e9, -1e9], same, same, box);
    expect(path.match(/M/g)).toHaveLength(2);
    expect(Math.max(...points(path).map(([, py]) => py))).toBe(140);
    expect(Math.min(...points(path).map(([, py]) => py))).toBe(-40);
  });
});

describe("nearest index", () => {
  it("finds the nearest of an ascending array, ends included", () => {
    const x = [1, 2, 4, 8];
    expect([-5, 1.4, 1.6, 3.1, 6.1, 99].map((target) => nearestIndex(x, target))).toEqual([0, 0, 1, 2, 3, 3]);
    expect(nearestIndex([7], 3)).toBe(0);
  });
});

describe("power of an axis", () => {
  it("leaves plain numbers alone and takes large and small ones out", () => {
    expect([0, 0.02, 1, 5000, 3e-5, 2.6e22].map(powerOf)).toEqual([0, 0, 0, 0, -5, 22]);
  });
});
