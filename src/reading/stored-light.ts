/**
 * What a file keeps of the light: whole counts, none below zero. Where the noise spans a count the mean of many pixels is
 * the light all the same; where it does not, faint light is kept as less, or as more, than it is.
 */
import type { Background } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";
import type { NoiseModel } from "./noise.ts";
import { normalCumulative } from "./smooth-box.ts";

/** How the light of a picture was stored, in light as a share of full scale. */
export interface StoredLight {
  /** light of one count where that is coarser than the noise; 0 where the noise is coarser */
  readonly step: number;
  /** standard deviation of dark pixels before they were stored; 0 where neither counts nor zero tell */
  readonly dark: number;
}

/** Mean of what is stored of a pixel and how it follows the light, without units. */
export interface StoredMean {
  mean: number;
  /** d mean/d light at the same noise */
  byLight: number;
  /** d mean/d σ at the same light */
  byNoise: number;
}

const DENSITY = 0.3989422804014327;
/** Standard deviations beyond which a threshold is passed for certain, or never: Φ(−6) = 1e-9. */
const SURE = 6;

/** Light that is stored as it is. */
export const AS_IT_IS: StoredLight = { step: 0, dark: 0 };

/** Counts alone: what a cut at zero does beside a bright line is nothing to the line. */
export function coarseOnly(stored: StoredLight): StoredLight {
  return stored.step > 0 ? stored : AS_IT_IS;
}

/** Share of samples at exactly zero from which on a file cuts noise off. */
export const CUT = 0.002;
/** Variance of the dark in squared counts below which counts are coarser than the noise: σ < ½ and a count's own 1/12. */
const COARSE = 1 / 3;
/** Least noise of the dark, counts: below it the threshold between two counts is as good as sharp. */
const SHARP = 0.02;

/**
 * @param noise of one exposure of the frame
 * @param readNoise of the camera, electrons: where the dark is all one count the frame cannot tell its noise
 */
export function storedLight(
  { step, zeroShare }: Pick<LightFrame, "step" | "zeroShare">,
  background: Background,
  { floor, perLight }: NoiseModel,
  readNoise: number,
): StoredLight {
  // An electron is as much light as the variance grows by with the light.
  if (step > 0 && floor < COARSE * step ** 2)
    return { step, dark: Math.max(readNoise * perLight, SHARP * step) };
  return { step: 0, dark: zeroShare > CUT ? background.upperSpread : 0 };
}

/**
 * Mean of max(0, x), x normal about `mean` with `sigma`: σφ(z) + mean·Φ(z), z = mean/σ. Faint light on a black level of
 * little more than the noise looks brighter than it is because of this.
 */
export function clippedMean(mean: number, sigma: number): number {
  const z = mean / sigma;
  if (z > SURE) return mean;
  return mean * normalCumulative(z) + sigma * Math.exp(-0.5 * z * z) * DENSITY;
}

/**
 * Mean of max(0, q·round(x/q)), x normal about `mean` with `sigma`: q Σ Φ(z_k) over k ≥ 1, z_k = (mean − (k − ½)q)/σ: each
 * threshold that is passed adds a count. Slopes: Σ φ(z_k)·q/σ and −Σ z_k φ(z_k)·q/σ. Error below 1e-8 q.
 */
export function roundedMean(mean: number, sigma: number, step: number, out: StoredMean): void {
  const m = mean / step;
  const s = sigma / step;
  const first = Math.max(1, Math.ceil(m + 0.5 - SURE * s));
  const last = Math.floor(m + 0.5 + SURE * s);
  let sum = first - 1;
  let byLight = 0;
  let byNoise = 0;
  for (let k = first; k <= last; k++) {
    const z = (m - k + 0.5) / s;
    const height = (Math.exp(-0.5 * z * z) * DENSITY) / s;
    sum += normalCumulative(z);
    byLight += height;
    byNoise -= z * height;
  }
  out.mean = sum * step;
  out.byLight = byLight;
  out.byNoise = byNoise;
}

/** Turns light into the mean of what is stored of it. */
export function storeLight(
  light: Float64Array,
  background: number,
  perLight: number,
  { step, dark }: StoredLight,
  count = light.length,
): void {
  if (dark <= 0) return;
  const variance = dark ** 2;
  const kept: StoredMean = { mean: 0, byLight: 0, byNoise: 0 };
  for (let i = 0; i < count; i++) {
    const sigma = Math.sqrt(variance + perLight * Math.max(light[i] - background, 0));
    if (step === 0) light[i] = clippedMean(light[i], sigma);
    else {
      roundedMean(light[i], sigma, step, kept);
      light[i] = kept.mean;
    }
  }
}

/**
 * How the stored mean follows a pixel's light above the background, with its noise, and the background.
 * @param light every `stride`th value is a pixel's light above the background
 * @param byLight overwritten by d mean/d light
 * @param byDark overwritten by d mean/d background
 */
export function storedSlopes(
  light: Float64Array,
  stride: number,
  background: number,
  perLight: number,
  { step, dark }: StoredLight,
  byLight: Float64Array,
  byDark: Float64Array,
): void {
  if (dark <= 0) {
    byLight.fill(1);
    byDark.fill(1);
    return;
  }
  const variance = dark ** 2;
  const kept: StoredMean = { mean: 0, byLight: 0, byNoise: 0 };
  for (let i = 0; i < byLight.length; i++) {
    // Read before it is written: `byLight` may be `light` itself.
    const above = light[i * stride];
    const sigma = Math.sqrt(variance + perLight * Math.max(above, 0));
    if (step === 0) {
      const z = (above + background) / sigma;
      byDark[i] = normalCumulative(z);
      byLight[i] = byDark[i] + ((DENSITY * perLight) / (2 * sigma)) * Math.exp(-0.5 * z * z);
    } else {
      roundedMean(above + background, sigma, step, kept);
      byDark[i] = kept.byLight;
      byLight[i] = kept.byLight + (perLight / (2 * sigma)) * kept.byNoise;
    }
  }
}
