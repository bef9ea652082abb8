import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { choleskyOf, correlated, normalDraw } from "./draws.ts";

describe("draws", () => {
  it("depend on seed and number alone", () => {
    expect(normalDraw(7, 3, 4)).toEqual(normalDraw(7, 3, 4));
    expect(normalDraw(7, 3, 4)).not.toEqual(normalDraw(7, 4, 4));
    expect(normalDraw(7, 3, 4)).not.toEqual(normalDraw(8, 3, 4));
    expect(Array.from(normalDraw(7, 3, 6).slice(0, 4))).toEqual(Array.from(normalDraw(7, 3, 4)));
  });

  it("are normal: mean, variance, kurtosis and neighbours, within four standard errors", () => {
    const n = 20000;
    const first = Float64Array.from({ length: n }, (_, i) => normalDraw(1, i, 3)[0]);
    const third = Float64Array.from({ length: n }, (_, i) => normalDraw(1, i, 3)[2]);
    const mean = (values: Float64Array, f: (x: number, i: number) => number): number =>
      values.reduce((sum, x, i) => sum + f(x, i), 0) / n;
    expect(Math.abs(mean(first, (x) => x))).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(mean(first, (x) => x * x) - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs(mean(first, (x) => x ** 4) - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
    expect(Math.abs(mean(first, (x, i) => x * third[i]))).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(mean(first, (x, i) => x * first[(i + 1) % n]))).toBeLessThan(4 / Math.sqrt(n));
    // Other seeds share nothing.
    expect(Math.abs(mean(first, (x, i) => x * normalDraw(2, i, 1)[0]))).toBeLessThan(4 / Math.sqrt(n));
  });

  it("take on a correlation", () => {
    const lower = choleskyOf(Float64Array.of(1, 0.8, 0.8, 1), 2);
    const n = 20000;
    let product = 0;
    for (let i = 0; i < n; i++) {
      const [a, b] = correlated(lower, normalDraw(5, i, 2));
      product += a * b;
    }
    expect(Math.abs(product / n - 0.8)).toBeLessThan(4 * Math.sqrt((1 + 0.64) / n));
  });

  it("refuse correlations that contradict each other", () => {
    expect(() => choleskyOf(Float64Array.of(1, 0.9, 0.9, 0.9, 1, -0.9, 0.9, -0.9, 1), 3)).toThrow(Refusal);
  });
});
