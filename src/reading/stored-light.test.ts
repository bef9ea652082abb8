/**
 * Means of what a file stores, against quadrature, drawn samples and the published series of rounding's bias: Widrow, Kollár and Liu, "Statistical
 * theory of quantization", IEEE Trans. Instrum. Meas. 45 (1996) 353–361: the error's mean follows from the characteristic function of the signal at
 * whole multiples of 2π/q; for normal noise Σ (−1)^k q/(πk) sin(2πk m/q) exp(−2π²k²σ²/q²) (the sum written out here, not copied).
 */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { ownCase } from "../../bench/campaign/reading/own.ts";
import { readPicture } from "./index.ts";
import {
  clippedMean,
  roundedMean,
  type StoredMean,
  storedLight,
  storedSlopes,
  storeLight,
} from "./stored-light.ts";

const Q = 1 / 255;
const kept: StoredMean = { mean: 0, byLight: 0, byNoise: 0 };
const meanOf = (m: number, s: number): number => {
  roundedMean(m * Q, s * Q, Q, kept);
  return kept.mean / Q;
};

/** Mean of f(x), x normal, by the midpoint rule over ± 9 σ. */
function quadrature(m: number, s: number, f: (x: number) => number): number {
  const n = 200_000;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const t = -9 + (18 * (i + 0.5)) / n;
    sum += Math.exp(-0.5 * t * t) * f(m + s * t);
  }
  return (sum * 18) / n / Math.sqrt(2 * Math.PI);
}

describe("mean of whole counts", () => {
  it("is what quadrature gives, cut at zero or not", () => {
    for (const m of [-0.4, 0, 0.13, 0.5, 1.2, 2.49, 40.7])
      for (const s of [0.02, 0.1, 0.3, 0.6]) {
        const wanted = quadrature(m, s, (x) => Math.max(0, Math.round(x)));
        // The midpoint rule loses up to half of one of its 200 000 steps at each threshold.
        expect(Math.abs(meanOf(m, s) - wanted), `${m} counts, σ ${s}`).toBeLessThan(1e-4);
      }
  });

  it("is what drawn samples give", () => {
    const dice = xoroshiro128plus(6);
    const unit = (): number => ((dice.next() >>> 0) + 0.5) / 4294967296;
    const n = 200_000;
    for (const [m, s] of [
      [0.3, 0.15],
      [1.6, 0.25],
    ]) {
      let sum = 0;
      for (let i = 0; i < n; i++)
        sum += Math.max(
          0,
          Math.round(m + s * Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit())),
        );
      // Counts scatter by less than half a count: four standard deviations of their mean.
      expect(Math.abs(sum / n - meanOf(m, s))).toBeLessThan((4 * 0.5) / Math.sqrt(n));
    }
  });

  it("differs from the light by the published series, far from zero", () => {
    for (const m of [20.1, 20.37, 20.8])
      for (const s of [0.1, 0.2, 0.35, 0.5]) {
        let bias = 0;
        for (let k = 1; k < 60; k++)
          bias +=
            ((k % 2 === 0 ? 1 : -1) / (Math.PI * k)) *
            Math.sin(2 * Math.PI * k * m) *
            Math.exp(-2 * (Math.PI * k * s) ** 2);
        expect(Math.abs(meanOf(m, s) - m - bias)).toBeLessThan(1e-7);
      }
    // Faint light: a third of a count is stored as nothing.
    expect(meanOf(0.33, 0.03)).toBeLessThan(1e-6);
  });

  it("has the slopes of its differences, by light and by noise", () => {
    const h = 1e-5;
    for (const m of [0.2, 0.47, 1.4, 7.77])
      for (const s of [0.08, 0.3]) {
        const byLight = (meanOf(m + h, s) - meanOf(m - h, s)) / (2 * h);
        const byNoise = (meanOf(m, s + h) - meanOf(m, s - h)) / (2 * h);
        meanOf(m, s);
        expect(Math.abs(kept.byLight - byLight)).toBeLessThan(1e-5);
        expect(Math.abs(kept.byNoise - byNoise)).toBeLessThan(1e-5);
      }
  });

  it("becomes the cut mean where counts are fine", () => {
    for (const m of [-0.5, 0, 0.7, 2]) {
      const fine = (s: number): number => {
        roundedMean(m, s, 0.01, kept);
        return kept.mean;
      };
      // Half a count is lost at the cut itself: a hundredth's square.
      expect(Math.abs(fine(1) - clippedMean(m, 1))).toBeLessThan(1e-5);
    }
  });
});

describe("light of a picture as it is stored", () => {
  const perLight = 0.02 * Q;
  const background = 0.3 * Q;
  const above = Float64Array.from([0, 0.1, 0.25, 1.3, 9.6], (v) => v * Q);
  const stored = (light: Float64Array, dark: number, how: { step: number; dark: number }): Float64Array => {
    const out = light.map((v) => v + dark);
    storeLight(out, dark, perLight, how);
    return out;
  };

  it.each([
    ["in coarse counts", { step: Q, dark: 0.06 * Q }],
    ["cut at zero", { step: 0, dark: 0.4 * Q }],
    ["as it is", { step: 0, dark: 0 }],
  ])("%s: slopes are those of the differences, its noise included", (_name, how) => {
    const h = 1e-6 * Q;
    const byLight = new Float64Array(above.length);
    const byDark = new Float64Array(above.length);
    storedSlopes(above, 1, background, perLight, how, byLight, byDark);
    const more = stored(
      above.map((v) => v + h),
      background,
      how,
    );
    const darker = stored(above, background + h, how);
    const here = stored(above, background, how);
    for (let i = 0; i < above.length; i++) {
      expect(Math.abs((more[i] - here[i]) / h - byLight[i])).toBeLessThan(1e-3);
      expect(Math.abs((darker[i] - here[i]) / h - byDark[i])).toBeLessThan(1e-3);
    }
  });

  it("counts tell only where they are coarser than the noise, and only whole ones", () => {
    const background = {
      level: 0,
      noise: 0,
      median: 0,
      upperSpread: 3 * Q,
      even: false,
      litShare: 0.1,
    };
    const noise = (counts: number) => ({ floor: (counts * Q) ** 2, perLight, correlation: 1 });
    const frame = { step: Q, zeroShare: 0 };
    expect(storedLight(frame, background, noise(0.3), 3)).toEqual({ step: Q, dark: 3 * perLight });
    expect(storedLight(frame, background, noise(0.3), 0).dark).toBeGreaterThan(0);
    expect(storedLight(frame, background, noise(0.6), 3)).toEqual({ step: 0, dark: 0 });
    expect(storedLight({ ...frame, zeroShare: 0.3 }, background, noise(0.6), 3)).toEqual({
      step: 0,
      dark: 3 * Q,
    });
    expect(storedLight({ ...frame, step: 0 }, background, noise(0.3), 3).step).toBe(0);
  });
});

describe("a linear picture of 8 bits whose dark is all one count", () => {
  // Read 5.7 % high and 8.8 % low before its counts were in the model.
  it.each([69, 45])(
    "forecast %i of the campaign's seed 7 gives the column density within 1 %",
    async (number) => {
      const { hot, cold, lamp, lampLines, setup, truth, trouble } = await ownCase(7, number);
      expect(trouble).toBe("8 bits, linear");
      const read = (times: number) =>
        readPicture({
          hot,
          ...(cold && { cold }),
          ...(lamp && { lamp, lampLines }),
          setup: { ...setup, camera: { ...setup.camera, readNoise: times * setup.camera.readNoise } },
        });
      const reading = read(1);
      expect(reading.verdict.code).toBe("good");
      expect(Math.abs(reading.columnDensity.value / truth.density - 1)).toBeLessThan(0.01);
      // The budget's step to first order, against reading it again with twice the read noise.
      const hidden = reading.budget.find(({ cause }) => cause.startsWith("noise of the dark, hidden"));
      const shift = Math.abs(read(2).columnDensity.value - reading.columnDensity.value);
      expect(shift).toBeGreaterThan(0.01 * truth.density);
      expect((hidden?.columnDensity ?? 0) / shift).toBeGreaterThan(0.7);
      expect((hidden?.columnDensity ?? 0) / shift).toBeLessThan(1.4);
    },
  );
});
