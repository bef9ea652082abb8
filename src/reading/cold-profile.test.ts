import { describe, expect, it } from "vitest";
import { addProducts, LINE_PARAMETERS } from "./cold-profile.ts";
import { pixelOfBox } from "./smooth-box.ts";
import { AS_IT_IS } from "./stored-light.ts";

/** Pixels of a band of 40 columns and 16 rows, the middle of the frame as origin. */
function band() {
  const columns = 40;
  const rows = 16;
  const count = columns * rows;
  const number = (i: number): number => Math.sin(12.9898 * (i + 1)) % 1;
  return {
    count,
    light: new Float64Array(count),
    along: Float64Array.from({ length: count }, (_, i) => Math.floor(i / rows) - 19.5),
    height: Float64Array.from({ length: count }, (_, i) => 7.5 - (i % rows)),
    column: new Int32Array(count),
    row: new Int32Array(count),
    spectrum: Float64Array.from({ length: count }, (_, i) => 0.1 + 0.002 * Math.floor(i / rows)),
    sigma: Float64Array.from({ length: count }, (_, i) => 0.01 + 0.001 * (i % 7)),
    residuals: Float64Array.from({ length: count }, (_, i) => number(i)),
    roots: Float64Array.from({ length: count }, (_, i) => (i % 5 === 0 ? 0.6 : 1)),
  };
}

/** offset, slope, bend, width, blur, background, scale */
const AT = Float64Array.of(0.37, 0.011, 2e-4, 5.3, 1.1, 0.02, 1.1);

describe("products of the undeflected line's slopes", () => {
  it.each([true, false])("with robust weights (%s): those of differences of the line itself", (robust) => {
    const { spectrum, sigma, residuals, roots, ...pixels } = band();
    const model = (p: Float64Array): Float64Array =>
      spectrum.map((light, i) => {
        const u = pixels.along[i];
        const v = pixels.height[i] - p[0] - u * (p[1] + u * p[2]);
        return ((p[6] * light * pixelOfBox(v, p[3], p[4]) + p[5]) / sigma[i]) * (robust ? roots[i] : 1);
      });
    const n = LINE_PARAMETERS;
    const steps = [1e-3, 1e-4, 1e-6, 1e-3, 1e-3, 1e-3, 1e-3];
    const slopes = steps.map((step, k) => {
      const [more, less] = [1, -1].map((side) => model(AT.map((v, i) => (i === k ? v + side * step : v))));
      return more.map((v, i) => (v - less[i]) / (2 * step));
    });
    const gram = new Float64Array(n * n).fill(Number.NaN);
    const moment = new Float64Array(n).fill(Number.NaN);
    const rootWeights = robust ? roots : null;
    const line = { pixels, light: spectrum, perLight: 0, stored: AS_IT_IS };
    addProducts(line, AT, residuals, { sigma, rootWeights }, gram, moment);
    const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, v, i) => sum + v * b[i], 0);
    const weighed = residuals.map((r, i) => r * (robust ? roots[i] : 1));
    for (let b = 0; b < n; b++) {
      const size = Math.sqrt(dot(slopes[b], slopes[b]));
      // The tables have 64 entries a pixel and straight pieces between: slopes in place err by up to 1 %.
      expect(Math.abs(moment[b] - dot(slopes[b], weighed)) / size).toBeLessThan(0.1);
      for (let a = 0; a <= b; a++)
        expect(
          Math.abs(gram[b * n + a] - dot(slopes[a], slopes[b])) /
            (size * Math.sqrt(dot(slopes[a], slopes[a]))),
        ).toBeLessThan(2e-3);
    }
  });
});
