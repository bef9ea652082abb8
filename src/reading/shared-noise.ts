/** How far neighbouring pixels share their noise (JPEG, resampled or smoothed pictures). */
import type { BandGrid } from "./band-grid.ts";
import type { BandPixels } from "./band-pixels.ts";

/** Columns between two pixels that share no noise: more than the 8-pixel blocks of a JPEG. */
export const LAG = 9;
/** Distances from LAG on whose mean stands for "far". */
const FAR = 8;
/** Neighbours looked at along a row and down a column: a line may be a few pixels high. */
const ALONG = 7;
const DOWN = 3;
/** Pixels of a band that tell it; larger bands are thinned, to a third at most. */
const TELLING = 15_000;
/** Most that is believed. */
const MOST = 16;

/**
 * Factor on variances of fitted values: 1 + 2 Σ ρ over the nearest neighbours along a row, times the same down a column.
 * ρ(k) = 1 − D(k)/D(∞), D the mean squared difference of residuals over their mean squares, from pairs k apart and from pairs as far apart in
 * rows but 9 to 16 columns away: slow faults of the model, and of its noise, are in both. Pairs count by the root
 * of their light: bright ones tell most in a fit, dark ones may hold another noise (a JPEG keeps none there).
 *
 * What so few pixels show above 1 is partly chance: of the excess d the share 1 − (s/d)² is kept, s what chance does alone. Cut off at 1 and
 * otherwise taken as it is, it would make all uncertainties of small pictures too wide. Below 1 is noise that neighbours divide among each other
 * (a sharpened picture): sums over many pixels then scatter less but edges more, so it counts as 1.
 * @param grid of the same pixels
 * @param model light, background included
 */
export function sharedNoise(
  pixels: BandPixels,
  grid: BandGrid,
  model: Float64Array,
  background: number,
  { floor, perLight }: { readonly floor: number; readonly perLight: number },
): number {
  const { count } = pixels;
  const every = Math.min(3, Math.max(1, Math.floor(count / TELLING)));
  const residual = new Float64Array(count);
  const root = new Float64Array(count);
  let sum = 0;
  let square = 0;
  for (let i = 0; i < count; i++) {
    const light = Math.max(model[i] - background, 0);
    residual[i] = (pixels.light[i] - model[i]) / Math.sqrt(floor + perLight * light);
    root[i] = Math.sqrt(Math.sqrt(light));
    sum += root[i] ** 2;
    square += light;
  }
  if (sum <= 0) return 1;
  const pairs: Pairs = { pixels, grid, residual, root, every };
  let along = 1;
  const level = farDifference(pairs, 0);
  if (level <= 0) return 1;
  for (let k = 1; k <= ALONG; k++) along += share(k) * (1 - difference(pairs, k, 0) / level);
  let down = 1;
  for (let k = 1; k <= DOWN; k++) {
    const apart = farDifference(pairs, k);
    if (apart > 0) down += share(k) * (1 - difference(pairs, 0, k) / apart);
  }
  const excess = along * down - 1;
  if (excess <= 0) return 1;
  const chance = chanceOf((sum * sum) / square / every);
  return Math.min(1 + excess * Math.max(0, 1 - (chance / excess) ** 2), MOST);
}

/** A neighbour's share of the sum over a block of 8. */
function share(distance: number): number {
  return 2 * (1 - distance / 8);
}

interface Pairs {
  readonly pixels: BandPixels;
  readonly grid: BandGrid;
  /** in units of the noise */
  readonly residual: Float64Array;
  /** a pixel's part of the weight of its pairs */
  readonly root: Float64Array;
  readonly every: number;
}

/**
 * Mean squared difference of pixels so many columns and rows apart over the mean of their squares' sums: 1 where they share nothing; 0
 * where there are none. Their own squares, since far pairs leave other pixels out at the ends than near ones.
 */
function difference({ pixels, grid, residual, root, every }: Pairs, columns: number, rows: number): number {
  let top = 0;
  let bottom = 0;
  for (let i = 0; i < residual.length; i += every) {
    const j = grid.at(pixels.column[i] + columns, pixels.row[i] + rows);
    if (j < 0) continue;
    const weight = root[i] * root[j];
    const off = residual[i] - residual[j];
    top += weight * off * off;
    bottom += weight * (residual[i] * residual[i] + residual[j] * residual[j]);
  }
  return bottom > 0 ? top / bottom : 0;
}

function farDifference(pairs: Pairs, rows: number): number {
  let mean = 0;
  for (let k = 0; k < FAR; k++) mean += difference(pairs, LAG + k, rows) / FAR;
  return mean;
}

/**
 * Standard deviation of the factor where nobody shares noise: each ρ of n pixels is known to 1/√n, that of "far" to 1/√(8n), and "far" stands in
 * all ρ of its rows.
 */
function chanceOf(pixels: number): number {
  let variance = 0;
  let all = 0;
  for (let k = 1; k <= ALONG; k++) {
    variance += share(k) ** 2;
    all += share(k);
  }
  variance += all ** 2 / FAR;
  for (let k = 1; k <= DOWN; k++) variance += share(k) ** 2 * (1 + 1 / FAR);
  return Math.sqrt(variance / pixels);
}
