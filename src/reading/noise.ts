/** What the frames themselves say about their noise: variance = floor + perLight · light, and how far it is shared by neighbours. */
import type { BandPixels } from "./band-pixels.ts";

export interface NoiseModel {
  /** variance in the dark, (share of full scale)² */
  readonly floor: number;
  /** variance per light above background, share of full scale */
  readonly perLight: number;
  /** factor on variances of fitted values from noise shared by neighbouring pixels (JPEG), ≥ 1 */
  readonly correlation: number;
}

const LAG = 9;

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
  const sums = new Float64Array(bins);
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
  for (let b = 0; b < bins; b++) sums[b] = 0.5 * clippedVariance(values[b]);
  // Weighted straight line: the variance of a variance is 2·variance²/count.
  let sw = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let b = 0; b < bins; b++) {
    if (counts[b] < 30 || sums[b] <= 0) continue;
    const w = counts[b] / sums[b] ** 2;
    const x = lights[b] / counts[b];
    sw += w;
    sx += w * x;
    sy += w * sums[b];
    sxx += w * x * x;
    sxy += w * x * sums[b];
  }
  // The first bin, half of it dark, is left to the floor.
  const slopeAbove = (level: number): number => {
    let product = 0;
    let square = 0;
    for (let b = 1; b < bins; b++) {
      if (counts[b] < 30 || sums[b] <= 0) continue;
      const x = lights[b] / counts[b];
      const w = counts[b] / sums[b] ** 2;
      product += w * x * (sums[b] - level);
      square += w * x * x;
    }
    return square > 0 ? product / square : 0;
  };
  const determinant = sw * sxx - sx * sx;
  let perLight = determinant > 0 ? (sw * sxy - sx * sy) / determinant : 0;
  let floor = determinant > 0 ? (sxx * sy - sx * sxy) / determinant : darkNoise ** 2;
  // Dark pixels know their own noise better than the line's foot, where light and its noise change within a bin.
  const dark = Math.max(darkNoise ** 2, 1e-12);
  if (floor < dark) {
    floor = dark;
    perLight = slopeAbove(floor);
  }
  if (perLight < 0) perLight = 0;
  return { floor, perLight, correlation: correlationFactor(pixels, model, grid) };
}

/** Finds pixels of the band by column and row: their indices, −1 elsewhere, over the band's own rectangle. */
class BandGrid {
  private readonly columns: number;
  private readonly rows: number;
  private readonly top: number;
  private readonly places: Int32Array;

  constructor(pixels: BandPixels) {
    let columns = 0;
    let top = Number.POSITIVE_INFINITY;
    let bottom = 0;
    for (let i = 0; i < pixels.count; i++) {
      columns = Math.max(columns, pixels.column[i] + 1);
      top = Math.min(top, pixels.row[i]);
      bottom = Math.max(bottom, pixels.row[i]);
    }
    this.columns = columns;
    this.top = pixels.count > 0 ? top : 0;
    this.rows = bottom - this.top + 1;
    this.places = new Int32Array(this.columns * this.rows).fill(-1);
    for (let i = 0; i < pixels.count; i++)
      this.places[pixels.column[i] * this.rows + pixels.row[i] - this.top] = i;
  }

  at(column: number, row: number): number {
    const r = row - this.top;
    return column < this.columns && r >= 0 && r < this.rows ? this.places[column * this.rows + r] : -1;
  }
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

/**
 * 1 + 2 Σ ρ over the seven nearest neighbours along a row, times the same down a column, each from differences so that
 * slow faults of the model do not count: ρ(k) = 1 − D(k)/D(∞), D(k) the mean squared difference at distance k.
 */
function correlationFactor(pixels: BandPixels, model: Float64Array, grid: BandGrid): number {
  const difference = (dc: number, dr: number): number => {
    let sum = 0;
    let count = 0;
    for (let i = 0; i < pixels.count; i += 3) {
      const j = grid.at(pixels.column[i] + dc, pixels.row[i] + dr);
      if (j < 0) continue;
      const noise = Math.sqrt(Math.max(model[i] * model[j], 1e-12));
      sum += (pixels.light[i] - model[i] - pixels.light[j] + model[j]) ** 2 / noise;
      count++;
    }
    return count > 0 ? sum / count : 0;
  };
  const far = difference(LAG, 0);
  if (far <= 0) return 1;
  let along = 1;
  for (let k = 1; k < 8; k++) along += 2 * (1 - k / 8) * (1 - difference(k, 0) / far);
  let down = 1;
  for (let k = 1; k < 4; k++) down += 2 * (1 - k / 8) * (1 - difference(0, k) / far);
  return Math.min(Math.max(along, 1) * Math.max(down, 1), 16);
}
