/** What the frames themselves say about their noise: variance = floor + perLight · light, and how far it is shared by neighbours. */
import { BandGrid } from "./band-grid.ts";
import type { BandPixels } from "./band-pixels.ts";
import { LAG, sharedNoise } from "./shared-noise.ts";

export interface NoiseModel {
  /** variance in the dark, (share of full scale)² */
  readonly floor: number;
  /** variance per light above background, share of full scale */
  readonly perLight: number;
  /** factor on variances of fitted values from noise shared by neighbouring pixels (JPEG), ≥ 1 */
  readonly correlation: number;
}

/**
 * Noise from the differences of residuals nine columns apart on the same row: slow faults of the model cancel, and the
 * distance exceeds the 8-pixel blocks of a JPEG. Pixels must come column by column.
 */
export function noiseFromResiduals(
  pixels: BandPixels,
  model: Float64Array,
  background: number,
  darkNoise: number,
): NoiseModel {
  const grid = new BandGrid(pixels);
  const bins = 12;
  const lights = new Float64Array(bins);
  const counts = new Float64Array(bins);
  let top = 0;
  for (let i = 0; i < pixels.count; i++) top = Math.max(top, model[i] - background);
  const binOf = (light: number): number => Math.min(bins - 1, Math.max(0, Math.floor((light / top) * bins)));
  const partner = new Int32Array(pixels.count);
  const room = new Int32Array(bins);
  for (let i = 0; i < pixels.count; i++) {
    const j = grid.at(pixels.column[i] + LAG, pixels.row[i]);
    partner[i] = j;
    if (j >= 0) room[binOf(0.5 * (model[i] + model[j]) - background)]++;
  }
  const values = Array.from(room, (size) => new Float64Array(size));
  for (let i = 0; i < pixels.count; i++) {
    const j = partner[i];
    if (j < 0) continue;
    const light = 0.5 * (model[i] + model[j]) - background;
    const bin = binOf(light);
    const d = pixels.light[i] - model[i] - pixels.light[j] + model[j];
    values[bin][counts[bin]] = d;
    lights[bin] += light;
    counts[bin]++;
  }
  const known: VarianceAt[] = [];
  for (let b = 0; b < bins; b++) {
    const variance = 0.5 * clippedVariance(values[b]);
    if (counts[b] >= 30 && variance > 0)
      known.push({ light: lights[b] / counts[b], variance, count: counts[b], dim: b === 0 });
  }
  const line = varianceLine(known, Math.max(darkNoise ** 2, 1e-12));
  return { ...line, correlation: sharedNoise(pixels, grid, model, background, line) };
}

/** Mean variance of the pixels of about one light. */
interface VarianceAt {
  readonly light: number;
  readonly variance: number;
  readonly count: number;
  /** half of them dark */
  readonly dim: boolean;
}

/** Times that the line's own variances weigh the next line. */
const WEIGHINGS = 4;

/**
 * The straight line through variances, nowhere below that of the dark. The variance of a variance is 2·variance²/count, with
 * the line's variance in it: with its own, one that came out low by chance would weigh more, and the line lie low.
 * @param dark variance of dark pixels: they know it better than the line's foot, where light and its noise change within a bin
 */
function varianceLine(known: readonly VarianceAt[], dark: number): Omit<NoiseModel, "correlation"> {
  let [floor, perLight] = [dark, 0];
  let weights = known.map(({ count, variance }) => count / variance ** 2);
  for (let pass = 0; pass <= WEIGHINGS; pass++) {
    [floor, perLight] = straightLine(known, weights) ?? [dark, 0];
    // The dim bin, half of it dark, is left to the floor then.
    if (floor < dark) [floor, perLight] = [dark, slopeAbove(known, weights, dark)];
    perLight = Math.max(perLight, 0);
    weights = known.map(({ count, light }) => count / (floor + perLight * Math.max(light, 0)) ** 2);
  }
  return { floor, perLight };
}

/** Variance at no light and its growth, by weighted least squares; null for less than two lights. */
function straightLine(known: readonly VarianceAt[], weights: readonly number[]): [number, number] | null {
  let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  known.forEach(({ light, variance }, k) => {
    const w = weights[k];
    sw += w;
    sx += w * light;
    sy += w * variance;
    sxx += w * light * light;
    sxy += w * light * variance;
  });
  const determinant = sw * sxx - sx * sx;
  return determinant > 0 ? [(sxx * sy - sx * sxy) / determinant, (sw * sxy - sx * sy) / determinant] : null;
}

function slopeAbove(known: readonly VarianceAt[], weights: readonly number[], level: number): number {
  let product = 0;
  let square = 0;
  known.forEach(({ light, variance, dim }, k) => {
    if (dim) return;
    product += weights[k] * light * (variance - level);
    square += weights[k] * light * light;
  });
  return square > 0 ? product / square : 0;
}

function clippedVariance(values: Float64Array): number {
  if (values.length < 8) return 0;
  const sorted = values.map(Math.abs).sort();
  // Where counts are coarse most differences are nothing at all: the few that are not tell of the noise.
  const middle = sorted[sorted.length >> 1] / 0.6745;
  const outer = sorted[Math.floor(0.9 * sorted.length)] / 1.645;
  const cut = 4 * Math.max(middle, outer);
  let sum = 0;
  let count = 0;
  for (const v of values) {
    if (Math.abs(v) > cut) continue;
    sum += v * v;
    count++;
  }
  return count > 0 ? sum / count : 0;
}
