import { describe, expect, it } from "vitest";
import type { CameraInput } from "./api.ts";
import { expose } from "./expose.ts";

const camera: CameraInput = {
  pixel: 5e-6,
  columns: 500,
  rows: 400,
  exposure: 1,
  rate: 1,
  fullWell: 65535,
  readNoise: 0,
  blackLevel: 0,
  bitDepth: 16,
  gamma: 1,
  seed: 7,
};
const flat = (light: number): Float32Array => new Float32Array(camera.columns * camera.rows).fill(light);

function moments(samples: Uint8Array | Uint16Array): { mean: number; variance: number; skewness: number } {
  let mean = 0;
  for (const s of samples) mean += s;
  mean /= samples.length;
  let m2 = 0;
  let m3 = 0;
  for (const s of samples) {
    m2 += (s - mean) ** 2;
    m3 += (s - mean) ** 3;
  }
  m2 /= samples.length;
  return { mean, variance: m2, skewness: m3 / samples.length / m2 ** 1.5 };
}

describe("expose", () => {
  it("counts as Poisson's law does at every level: mean = variance, skewness 1/√mean", () => {
    // 200 000 pixels: the mean is sure to √(μ/n), the variance to √(2/n) of itself, the skewness to √(6/n); 4.5 standard deviations allowed.
    const n = camera.columns * camera.rows;
    for (const level of [0.05, 0.7, 4, 15.5, 16.5, 40, 1000, 30000]) {
      const { mean, variance, skewness } = moments(expose(flat(level), { ...camera, seed: 3 }).samples);
      expect(Math.abs(mean - level)).toBeLessThan(4.5 * Math.sqrt(level / n));
      expect(Math.abs(variance / level - 1)).toBeLessThan(
        4.5 * Math.sqrt((2 + 1 / level) / n) + 1e-4 + 0.09 / level / 12,
      );
      if (level >= 0.5)
        expect(Math.abs(skewness - 1 / Math.sqrt(level))).toBeLessThan(4.5 * Math.sqrt((6 + 20 / level) / n));
    }
  });

  it("gives the law's own frequencies for small counts", () => {
    const { samples } = expose(flat(2), camera);
    let p = Math.exp(-2);
    for (let k = 0; k < 8; k++) {
      let hits = 0;
      for (const v of samples) if (v === k) hits++;
      const share = hits / samples.length;
      expect(Math.abs(share - p)).toBeLessThan(4.5 * Math.sqrt((p * (1 - p)) / samples.length));
      p *= 2 / (k + 1);
    }
  });

  it("adds read noise, black level and full well", () => {
    const dark = expose(flat(0), { ...camera, readNoise: 5, blackLevel: 0.1 });
    const { mean, variance } = moments(dark.samples);
    expect(mean).toBeCloseTo(6553.5, 1);
    // 5 electrons are 4.5 steps of the 0.9 of full scale that is left, and rounding adds 1/12.
    expect(variance).toBeCloseTo(4.5 * 4.5 + 1 / 12, 0);
    const bright = expose(flat(1e6), { ...camera, blackLevel: 0.1 });
    expect(bright.samples.every((v) => v === 65535)).toBe(true);
  });

  it("stores light^(1/gamma) of full scale", () => {
    for (const gamma of [1.8, 2.2]) {
      for (const level of [0.004, 0.05, 0.3, 0.9]) {
        const eight = expose(flat(level), { ...camera, fullWell: 1e6, rate: 1e6, bitDepth: 8, gamma });
        const { mean } = moments(eight.samples);
        expect(Math.abs(mean - 255 * level ** (1 / gamma))).toBeLessThan(0.5);
      }
    }
  });

  it("gives one picture for one seed, another for another", () => {
    const light = Float32Array.from({ length: 200000 }, (_, i) => i % 50);
    const a = expose(light, camera);
    expect(expose(light, camera).samples).toEqual(a.samples);
    expect(expose(light, camera, 8).samples).not.toEqual(a.samples);
    // Frozen bytes: sums of products of position and value, so that a change on any machine or version shows.
    let check = 0;
    a.samples.forEach((v, i) => {
      check = (check * 31 + v * ((i % 97) + 1)) % 4294967291;
    });
    expect(check).toBe(CHECK);
  });

  it("refuses what no camera can be", () => {
    for (const wrong of [
      { exposure: 0 },
      { fullWell: -1 },
      { readNoise: -1 },
      { blackLevel: 1 },
      { gamma: 0 },
      { rate: NaN },
      { seed: 1.5 },
    ]) {
      expect(() => expose(flat(1), { ...camera, ...wrong })).toThrow(
        new RegExp(`camera.${Object.keys(wrong)[0]}`),
      );
    }
  });
});

/** Of 200 000 pixels at 0…49 electrons, seed 7. */
const CHECK = 1770428903;
