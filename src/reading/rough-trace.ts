/**
 * First look at the hot picture: for every place along the spectrum the centre of the light and how much of it is left.
 * Good to a fraction of a pixel where the curve is gentle; only a start for the pixel fit where it is steep.
 */
import { columnOnRow, type Geometry } from "./geometry.ts";
import type { LightFrame } from "./frame-light.ts";

export interface RoughTrace {
  /** one entry per column of the middle row, U = index + 0.5 − columns/2 */
  readonly height: Float64Array;
  /** standard deviation of `height`, pixels; infinite where no light was found */
  readonly sigma: Float64Array;
  /** summed light above background, full scale · pixels */
  readonly light: Float64Array;
  /** standard deviation of `light` */
  readonly lightSigma: number;
}

/** Rows to either side over which the light is smoothed before its brightest row is sought. */
const SMOOTH = 3;

/**
 * Collects the light along each line of constant wavelength.
 * @param noise standard deviation of one dark pixel
 */
export function roughTrace(frame: LightFrame, geometry: Geometry, level: number, noise: number): RoughTrace {
  const { columns, rows } = frame;
  const height = new Float64Array(columns);
  const sigma = new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  const light = new Float64Array(columns);
  const straight = rectified(frame, geometry, level);
  const c = Math.cos(geometry.roll);
  // Row by row, as the samples lie in memory: columns of a large frame read one after the other would miss the caches.
  const top = new Int32Array(columns);
  const peaks = new Float64Array(columns).fill(Number.NEGATIVE_INFINITY);
  /** sum of the rows that `smoothAt` takes the mean of, kept up from row to row */
  const near = new Float64Array(columns);
  for (let r = 0; r < Math.min(SMOOTH, rows); r++) addRow(near, straight, r * columns, 1);
  for (let r = 0; r < rows; r++) {
    const base = r * columns;
    if (r + SMOOTH < rows) addRow(near, straight, base + SMOOTH * columns, 1);
    if (r > SMOOTH) addRow(near, straight, base - (SMOOTH + 1) * columns, -1);
    const share = 1 / (Math.min(rows - 1, r + SMOOTH) - Math.max(0, r - SMOOTH) + 1);
    for (let k = 0; k < columns; k++) {
      light[k] += straight[base + k];
      const value = near[k] * share;
      if (value > peaks[k]) {
        peaks[k] = value;
        top[k] = r;
      }
    }
  }
  for (let k = 0; k < columns; k++) {
    const along = k + 0.5 - columns / 2;
    const peak = peaks[k];
    const floor = (5 * noise) / Math.sqrt(2 * SMOOTH + 1);
    if (peak < floor) continue;
    const cut = Math.max(floor / 1.7, 0.15 * peak);
    let low = top[k];
    let high = top[k];
    while (low > 0 && smoothAt(straight, columns, rows, k, low - 1) > cut) low--;
    while (high < rows - 1 && smoothAt(straight, columns, rows, k, high + 1) > cut) high++;
    let sum = 0;
    let moment = 0;
    for (let r = low; r <= high; r++) {
      const value = straight[r * columns + k];
      sum += value;
      moment += value * r;
    }
    if (sum <= 0) continue;
    const centre = moment / sum;
    const n = high - low + 1;
    const row = centre + 0.5;
    height[k] = (rows / 2 - row) / c - along * Math.tan(geometry.roll);
    // Noise times lever arm over the light: ∫ noise²·(r − centre)² = noise²·n³/12.
    sigma[k] = Math.hypot((noise * Math.sqrt(n ** 3 / 12)) / sum, 0.05);
  }
  return { height, sigma, light, lightSigma: noise * Math.sqrt(rows) };
}

function addRow(sums: Float64Array, rows: Float64Array, base: number, sign: number): void {
  for (let k = 0; k < sums.length; k++) sums[k] += sign * rows[base + k];
}

/** Mean of the light from three rows above to three below, as far as there are such. */
function smoothAt(straight: Float64Array, columns: number, rows: number, k: number, r: number): number {
  const from = Math.max(0, r - SMOOTH);
  const to = Math.min(rows - 1, r + SMOOTH);
  let sum = 0;
  for (let i = from; i <= to; i++) sum += straight[i * columns + k];
  return sum / (to - from + 1);
}

/** Brightness of lamps from one frame to the next that is no loss, share. */
const SAME = 0.1;

/**
 * Light left since the cold frame where the vapour takes none, share: fog and smoke dim all wavelengths, and without this
 * would look like one wide gap. 1 where the frames are about equally bright.
 */
export function lightLeft(trace: RoughTrace, reference: Float64Array): number {
  const typical = Float64Array.from(reference).sort()[reference.length >> 1];
  const shares: number[] = [];
  for (let k = 0; k < reference.length; k++)
    if (Number.isFinite(trace.sigma[k]) && reference[k] > 0.3 * typical)
      shares.push(trace.light[k] / reference[k]);
  if (shares.length < 20) return 1;
  shares.sort((a, b) => a - b);
  const left = shares[Math.floor(0.8 * shares.length)];
  return Math.abs(left - 1) < SAME || left <= 0.01 ? 1 : left;
}

/** The frame with every line of constant wavelength put upright: rows as they are, columns shifted (linear between pixels). */
function rectified(frame: LightFrame, geometry: Geometry, level: number): Float64Array {
  const { columns, rows, light } = frame;
  const out = new Float64Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const first = columnOnRow(geometry, 0.5 - columns / 2, r + 0.5);
    const last = columnOnRow(geometry, columns / 2 - 0.5, r + 0.5);
    const step = (last - first) / (columns - 1);
    const base = r * columns;
    for (let k = 0; k < columns; k++) {
      const at = first + k * step - 0.5;
      const c = Math.floor(at);
      if (c < 0 || c + 1 >= columns) continue;
      const part = at - c;
      out[base + k] = light[base + c] + part * (light[base + c + 1] - light[base + c]) - level;
    }
  }
  return out;
}
