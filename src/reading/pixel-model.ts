/**
 * The picture that a curve makes on the pixels, fast enough to be fitted.
 *
 *   I(U, v) = ∫ dU′ B(U − U′) S(U′) Σ_j w_j T_j(U′) P(v − v_cold(U′) − D_j(U′)) + background
 *
 * Cells along U are short; inside a cell D runs straight, so that the level slit's image P is averaged over it exactly
 * however steep the branch; the result is then spread over the pixels of each row by B, the plumb slit's image.
 */
import type { Geometry } from "./geometry.ts";
import {
  type Blur,
  blurKernel,
  type Kernel,
  PHASES,
  type SlitTable,
  slitTable,
  tableIntegral,
  type Variances,
  variancesOf,
} from "./slit-tables.ts";

/** Curve on the cell borders; two-dimensional arrays are heights × nodes. */
export interface CurveOnNodes {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
  /** v of the light, pixels above the middle, heights × nodes */
  readonly place: Float64Array;
  /** light per pixel on the line, full scale: S·T, heights × nodes */
  readonly light: Float64Array;
}

/** Beam heights whose places differ by less than this are drawn as one, pixels. */
export const MERGE = 0.1;
/** Cells that climb less than this are drawn level, pixels. */
export const LEVEL = 0.05;

/** Scratch memory of one picture size; reused between evaluations. */
export interface ModelScratch {
  readonly image: Float64Array;
  /** light of the present cell on each row */
  readonly column: Float64Array;
  /** height v and column coordinate of the present cell on each row */
  readonly height: Float64Array;
  readonly centre: Float64Array;
  /** rows that hold light: from, inclusive, to, exclusive */
  from: number;
  to: number;
}

/** Rows that are drawn: every so manieth of the frame, counted from its top; 1 draws all. */
export type RowStep = number;

export function modelScratch(columns: number, rows: number): ModelScratch {
  return {
    image: new Float64Array(columns * rows),
    column: new Float64Array(rows),
    height: new Float64Array(rows),
    centre: new Float64Array(rows),
    from: 0,
    to: 0,
  };
}

/** Writes the picture into `scratch.image` (without background); everything there is overwritten. */
export function renderPixels(
  curve: CurveOnNodes,
  geometry: Geometry,
  blur: Blur,
  scratch: ModelScratch,
  every: RowStep = 1,
): void {
  const { image, column, height, centre } = scratch;
  const { columns, rows, smile } = geometry;
  const { place, light, weights, nodes } = curve;
  image.fill(0, scratch.from * columns, scratch.to * columns);
  scratch.from = rows;
  scratch.to = 0;
  const kernel = blurKernel(blur);
  const slit = slitTable(blur);
  const n = nodes.length;
  const heights = weights.length;
  const s = Math.sin(geometry.roll);
  const k = Math.cos(geometry.roll);
  const variances = variancesOf(blur);
  for (let i = 0; i + 1 < n; i++) {
    const along = 0.5 * (nodes[i] + nodes[i + 1]);
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let lowMiddle = low;
    let highMiddle = high;
    let sum = 0;
    let placeA = 0;
    let placeB = 0;
    let squares = 0;
    for (let j = 0; j < heights; j++) {
      const at = j * n + i;
      const here = 0.5 * (light[at] + light[at + 1]) * weights[j];
      if (here < 1e-8) continue;
      const a = place[at];
      const b = place[at + 1];
      low = Math.min(low, a, b);
      high = Math.max(high, a, b);
      lowMiddle = Math.min(lowMiddle, 0.5 * (a + b));
      highMiddle = Math.max(highMiddle, 0.5 * (a + b));
      sum += here;
      placeA += here * a;
      placeB += here * b;
      squares += here * (a * a + a * b + b * b);
    }
    if (sum < 1e-7) continue;
    const mean = (placeA + placeB) / (2 * sum);
    const upright = s * uprightPart(variances, squares / (3 * sum) - mean * mean);
    // The row of height v at this place: row = rows/2 − (u·s + v·k).
    const bent = along + smile * low * low;
    const top = Math.max(0, Math.floor(rows / 2 - (bent * s + (high + slit.reach) * k) - 1));
    const first = Math.ceil(top / every) * every;
    const last = Math.min(rows - 1, Math.ceil(rows / 2 - (bent * s + (low - slit.reach) * k) + 1));
    if (last < first) continue;
    scratch.from = Math.min(scratch.from, first);
    scratch.to = Math.max(scratch.to, last + 1);
    for (let r = first; r <= last; r += every) {
      const y = rows / 2 - r - 0.5;
      const straight = (y - along * s) / k;
      const u = along + smile * straight * straight;
      const v = (y - u * s) / k;
      height[r] = v;
      centre[r] = columns / 2 + u * k - v * s + upright * (v - mean);
      column[r] = 0;
    }
    if (highMiddle - lowMiddle < MERGE)
      addCell(placeA / sum, placeB / sum, sum, slit, height, first, last, every, column);
    else
      for (let j = 0; j < heights; j++) {
        const at = j * n + i;
        const here = 0.5 * (light[at] + light[at + 1]) * weights[j];
        if (here >= 1e-8) addCell(place[at], place[at + 1], here, slit, height, first, last, every, column);
      }
    const length = nodes[i + 1] - nodes[i];
    for (let r = first; r <= last; r += every) {
      const value = column[r] * length;
      if (value > 1e-9) spread(image, r * columns, columns, centre[r], value, kernel);
    }
  }
}

/**
 * Part of the roll by which the light of a cell leans less than its spectral line. Slit images turn with the camera, a round blur and the pixel do not: of one point
 * of light the covariance between column and height is −sin(roll)·(variance up − variance across), where a line that leans as a whole would give
 * −sin(roll)·(variance up). A shift by sin(roll) times this part of the distance from the cell's middle gives all its light the first.
 * @param places variance of the places of the cell's light along the height, pixels²
 */
export function uprightPart({ up, across }: Variances, places: number): number {
  return across / (up + Math.max(0, places));
}

/** Adds one height's cell to the column of row values; rows fall in height by almost one pixel each. */
function addCell(
  a: number,
  b: number,
  light: number,
  slit: SlitTable,
  height: Float64Array,
  first: number,
  last: number,
  every: RowStep,
  column: Float64Array,
): void {
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  const run = high - low;
  const { reach, shape, integral } = slit;
  const perRow = rowFall(height, first, last, every);
  const from = firstRow(first, (height[first] - high - reach) / perRow - 1, every);
  const to = Math.min(last, Math.ceil(first + (height[first] - low + reach) / perRow + 1));
  if (run < LEVEL) {
    const middle = 0.5 * (a + b);
    for (let r = from; r <= to; r += every) {
      const x = (height[r] - middle + reach) * PHASES;
      if (x <= 0 || x >= shape.length - 1) continue;
      const i = x | 0;
      column[r] += light * (shape[i] + (x - i) * (shape[i + 1] - shape[i]));
    }
    return;
  }
  const share = light / run;
  const top = shape.length - 1;
  for (let r = from; r <= to; r += every) {
    column[r] +=
      share *
      (tableIntegral(integral, shape, (height[r] - low + reach) * PHASES, top) -
        tableIntegral(integral, shape, (height[r] - high + reach) * PHASES, top));
  }
}

/** Fall of the height from one row of the frame to the next, between the first and the last drawn row of a cell. */
export function rowFall(height: Float64Array, first: number, last: number, every: RowStep): number {
  const end = last - ((last - first) % every);
  return end > first ? (height[first] - height[end]) / (end - first) : 1;
}

/** The first drawn row at or after `first` + `skip`. */
export function firstRow(first: number, skip: number, every: RowStep): number {
  return first + Math.max(0, Math.ceil(Math.floor(skip) / every)) * every;
}

/** Spreads a value at `centre` (column coordinate) over the pixel centres of a row. */
function spread(
  image: Float64Array,
  base: number,
  columns: number,
  centre: number,
  value: number,
  kernel: Kernel,
): void {
  const { values, half } = kernel;
  const from = Math.max(0, Math.ceil(centre - 0.5 - half));
  const to = Math.min(columns - 1, Math.floor(centre - 0.5 + half));
  if (to < from) return;
  const x = (from + 0.5 - centre + half) * PHASES;
  let i = x | 0;
  const f = x - i;
  for (let c = base + from; c <= base + to; c++) {
    image[c] += value * (values[i] + f * (values[i + 1] - values[i]));
    i += PHASES;
  }
}
