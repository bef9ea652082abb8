import { expect, it } from "vitest";
import { lightBudget } from "./light-budget.ts";
import { linePeak } from "./line-peak.ts";
import { spectralMap } from "./spectral-map.ts";
import { plainBench } from "./testing/plain-bench.ts";

it("is the box folded with Gaussian and pixel, summed by hand", () => {
  const normal = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  for (const [slit, sigma, pixel] of [
    [3, 2, 1],
    [0.4, 0.3, 1],
    [1, 1, 1],
    [20, 0.5, 4],
  ] as const) {
    // Light at y in the pixel comes from every place of the slit's image: a double sum over both boxes.
    const n = 400;
    let sum = 0;
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++)
        sum += normal((((i + 0.5) / n - 0.5) * pixel - ((k + 0.5) / n - 0.5) * slit) / sigma);
    const byHand = (sum * slit) / (n * n * sigma);
    expect(linePeak(slit, sigma, pixel) / byHand).toBeCloseTo(1, 4);
  }
  expect(linePeak(3, 0, 4)).toBe(0.75);
  expect(linePeak(5, 0, 4)).toBe(1);
  expect(linePeak(3, 0.0041, 4)).toBeCloseTo(0.75, 4);
});

it("takes the budget's rate down as the focus goes, so that the light over the line's whole height stays", () => {
  const path = plainBench({ source: { kind: "carbon-arc" }, centreWavelength: 460e-9 });
  const pixel = 4e-6;
  const rate = (defocus: number): number =>
    lightBudget({ path: { ...path, defocus }, map: spectralMap(path), pixel, quantumEfficiency: 1 }, 460e-9)
      .photonRate;
  // Far out of focus the line is a Gaussian: its middle falls as 1/σ.
  expect(rate(4e-4) / rate(2e-4)).toBeCloseTo(0.5, 2);
  expect(rate(5e-5)).toBeLessThan(0.7 * rate(0));
});
