import { describe, expect, it } from "vitest";
import { leastSquares } from "../numerics/least-squares.ts";
import { pixelOfBox } from "./smooth-box.ts";
import { bendStep } from "./wide-blur.ts";

const places = { brightness: 0, width: 1, blur: 2 };

describe("a step of a line far out of focus", () => {
  it("changes sum and spread as the straight step says at its start", () => {
    const from = Float64Array.of(0.8, 12, 15);
    const to = Float64Array.of(0.9, 13.5, 14.8);
    bendStep(from, to, places);
    const spread = (p: Float64Array): number => p[1] ** 2 / 12 + p[2] ** 2;
    expect(to[1]).toBe(13.5);
    expect(spread(to) - spread(from)).toBeCloseTo((12 * 1.5) / 6 + 2 * 15 * -0.2, 12);
    expect(to[0] * to[1] - 0.8 * 12).toBeCloseTo(0.8 * 1.5 + 12 * 0.1, 12);
  });

  it("is straight where the slit's edges show, and where the blur would vanish", () => {
    for (const [from, to] of [
      [Float64Array.of(0.8, 12, 2), Float64Array.of(0.9, 13.5, 2.5)],
      [Float64Array.of(0.8, 12, 5), Float64Array.of(0.9, 60, 5)],
    ]) {
      const straight = to.slice();
      bendStep(from, to, places);
      expect(to).toEqual(straight);
    }
  });

  it("takes a fit along the valley in a third of the steps", () => {
    const rows = Array.from({ length: 161 }, (_, i) => i - 80);
    const light = rows.map((v) => 0.5 * pixelOfBox(v, 12, 16));
    const steps = [true, false].map((bent) => {
      const found = leastSquares({
        start: [0.2, 30, 13.9],
        residualCount: rows.length,
        residuals: (p, out) => {
          rows.forEach((v, i) => {
            out[i] = (p[0] * pixelOfBox(v, p[1], p[2]) - light[i]) / 1e-5;
          });
        },
        lower: [0, 0.3, 0.2],
        maxIterations: 300,
        fallTolerance: 1e-3,
        ...(bent
          ? {
              bend: (from: Float64Array, to: Float64Array) => {
                bendStep(from, to, places);
              },
            }
          : {}),
      });
      expect(found.parameters[1] / 12).toBeCloseTo(1, 1);
      return found.iterations;
    });
    expect(steps[0]).toBeLessThan(steps[1] / 3);
  });
});
