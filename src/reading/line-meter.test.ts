import { describe, expect, it } from "vitest";
import type { Frame } from "../picture/api.ts";
import { meterLine } from "./line-meter.ts";

/** Error function by its series, independent of the program's own. */
function erf(x: number): number {
  if (Math.abs(x) > 4) return Math.sign(x);
  let term = x;
  let sum = x;
  for (let k = 1; k < 120; k++) {
    term *= (-x * x) / k;
    sum += term / (2 * k + 1);
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
}

/** A line of 9 rows with Gaussian edges, sampled in the middle of each pixel; 16 bits. */
function line(slope: number, sigma: number, gamma = 1, light = 0.6): Frame {
  const [columns, rows] = [640, 480];
  const samples = new Uint16Array(columns * rows);
  for (let c = 0; c < columns; c++) {
    const middle = 200 - Math.tan(slope) * (c + 0.5 - columns / 2);
    for (let r = 0; r < rows; r++) {
      const d = r + 0.5 - middle;
      // The pixel's own width is a blur of variance 1/12.
      const s = Math.SQRT2 * Math.sqrt(sigma ** 2 + 1 / 12);
      const value = 0.01 + (light * (erf((d + 4.5) / s) - erf((d - 4.5) / s))) / 2;
      const noise = 0.002 * Math.sin(12.9898 * c + 78.233 * r);
      samples[r * columns + c] = Math.round(65535 * Math.max(0, value + noise) ** (1 / gamma));
    }
  }
  return { columns, rows, channels: 1, depth: 16, samples };
}

describe("the meter of the bright line", () => {
  for (const slope of [0, 0.002, -0.013, 0.04]) {
    it(`measures a slope of ${slope * 1e3} mrad`, () => {
      const meter = meterLine(line(slope, 1.2), 1);
      expect(Math.abs((meter?.slope ?? 1) - slope)).toBeLessThan(1e-4);
      expect(meter?.row).toBeCloseTo(200, 1);
    });
  }
  for (const sigma of [0.6, 1.2, 1.8]) {
    it(`measures an edge of ${sigma} pixels and the light, coded or not`, () => {
      for (const gamma of [1, 2.2]) {
        const meter = meterLine(line(0.003, sigma, gamma), gamma);
        expect(Math.abs((meter?.edge ?? 0) - sigma)).toBeLessThan(0.12);
        expect(Math.abs((meter?.light ?? 0) - 0.6)).toBeLessThan(0.02);
      }
    });
  }
  it("says nothing of a dark frame", () => {
    expect(meterLine(line(0, 1, 1, 0), 1)).toBeNull();
  });
});
