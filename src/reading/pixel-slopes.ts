/**
 * The model picture and its slopes in every parameter at once: what `pixel-model.ts` draws, differentiated by hand.
 * One pass shares all that the parameters have in common, the light's place on the pixels above all, which makes a
 * Jacobian cost about as much as three pictures instead of one per parameter.
 */
import type { Geometry } from "./geometry.ts";
import { type CurveOnNodes, firstRow, LEVEL, MERGE, rowFall, type RowStep } from "./pixel-model.ts";
import {
  type Blur,
  blurKernel,
  blurSlopeKernel,
  PHASES,
  type SlitTable,
  slitSlopeTable,
  slitTable,
  tableIntegral,
  tableValue,
} from "./slit-tables.ts";

/** Slope of the curve's arrays in one parameter, heights × nodes. */
export interface CurveSlope {
  readonly place: Float64Array;
  readonly light: Float64Array;
}

/** Slopes that do not go through the curve, in their order behind the curve's. */
export const SHAPE_SLOPES = ["roll", "smile", "plumb blur", "level blur", "level width"] as const;

interface Tables {
  readonly slit: SlitTable;
  readonly bySigma: SlitTable;
  readonly byWidth: SlitTable;
}

/** Rows' sums of one cell: light, its slopes in the curve's parameters, in v, in the level blur and in the level width. */
interface RowSums {
  readonly sums: Float64Array;
  /** entries per row */
  readonly each: number;
  readonly height: Float64Array;
  readonly centre: Float64Array;
}

/** One level or slanting stretch: its ends, its light, and their slopes. */
interface Stretch {
  a: number;
  b: number;
  light: number;
  readonly aSlope: Float64Array;
  readonly bSlope: Float64Array;
  readonly lightSlope: Float64Array;
}

/**
 * Writes, for each listed pixel, the light and its slopes: the curve's in the order given, then `SHAPE_SLOPES`.
 * @param index place of every pixel of the frame in the list, −1 where it is not listed
 * @param out list length × (1 + slopes.length + 5), row-major; overwritten
 */
export function renderSlopes(
  curve: CurveOnNodes,
  slopes: readonly CurveSlope[],
  geometry: Geometry,
  blur: Blur,
  index: Int32Array,
  out: Float64Array,
  every: RowStep = 1,
): void {
  const { columns, rows, smile } = geometry;
  const { place, light, weights, nodes } = curve;
  const n = nodes.length;
  const heights = weights.length;
  const count = slopes.length;
  const stride = 1 + count + SHAPE_SLOPES.length;
  out.fill(0);
  const tables: Tables = {
    slit: slitTable(blur),
    bySigma: slitSlopeTable(blur, "sigmaHeight"),
    byWidth: slitSlopeTable(blur, "slitHeight"),
  };
  const kernel = blurKernel(blur);
  const byBlur = blurSlopeKernel(blur);
  const row: RowSums = {
    sums: new Float64Array(rows * (4 + count)),
    each: 4 + count,
    height: new Float64Array(rows),
    centre: new Float64Array(rows),
  };
  const part: Stretch = {
    a: 0,
    b: 0,
    light: 0,
    aSlope: new Float64Array(count),
    bSlope: new Float64Array(count),
    lightSlope: new Float64Array(count),
  };
  const values = new Float64Array(stride);
  const s = Math.sin(geometry.roll);
  const k = Math.cos(geometry.roll);
  const t = s / k;
  const { reach } = tables.slit;
  const { each, sums, height, centre } = row;
  for (let i = 0; i + 1 < n; i++) {
    const along = 0.5 * (nodes[i] + nodes[i + 1]);
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let lowMiddle = low;
    let highMiddle = high;
    let sum = 0;
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
    }
    if (sum < 1e-7) continue;
    const bent = along + smile * low * low;
    const top = Math.max(0, Math.floor(rows / 2 - (bent * s + (high + reach) * k) - 1));
    const first = Math.ceil(top / every) * every;
    const last = Math.min(rows - 1, Math.ceil(rows / 2 - (bent * s + (low - reach) * k) + 1));
    if (last < first) continue;
    for (let r = first; r <= last; r += every) {
      const straight = (rows / 2 - r - 0.5 - along * s) / k;
      const u = along + smile * straight * straight;
      const v = (rows / 2 - r - 0.5 - u * s) / k;
      height[r] = v;
      centre[r] = columns / 2 + u * k - v * s;
    }
    sums.fill(0, first * each, (last + 1) * each);
    if (highMiddle - lowMiddle < MERGE) {
      merged(curve, slopes, i, sum, part);
      addStretch(part, tables, row, first, last, every, count);
    } else
      for (let j = 0; j < heights; j++)
        if (single(curve, slopes, i, j, part)) addStretch(part, tables, row, first, last, every, count);
    const length = nodes[i + 1] - nodes[i];
    for (let r = first; r <= last; r += every) {
      const from = r * each;
      const base = sums[from] * length;
      if (!(base > 1e-9)) continue;
      for (let c = 0; c <= count; c++) values[c] = sums[from + c] * length;
      // Turning and bending move a place both up and along: v and the column of its centre.
      const straight = (rows / 2 - r - 0.5 - along * s) / k;
      const uRoll = 2 * smile * straight * (straight * t - along);
      const v = height[r];
      const vRoll = v * t - uRoll * t - (along + smile * straight * straight);
      const centreRoll = uRoll * k - (along + smile * straight * straight) * s - vRoll * s - v * k;
      const uSmile = straight * straight;
      const vSmile = -uSmile * t;
      const centreSmile = uSmile * k - vSmile * s;
      const bySigma = sums[from + count + 2] * length;
      const byWidth = sums[from + count + 3] * length;
      const byHeight = sums[from + count + 1] * length;
      const x0 = centre[r];
      const { values: taps, half } = kernel;
      const blurTaps = byBlur.values;
      const firstColumn = Math.max(0, Math.ceil(x0 - 0.5 - half));
      const lastColumn = Math.min(columns - 1, Math.floor(x0 - 0.5 + half));
      const x = (firstColumn + 0.5 - x0 + half) * PHASES;
      let tap = x | 0;
      const f = x - tap;
      for (let c = firstColumn; c <= lastColumn; c++, tap += PHASES) {
        const listed = index[r * columns + c];
        if (listed < 0) continue;
        const rise = taps[tap + 1] - taps[tap];
        const w = taps[tap] + f * rise;
        const moved = -rise * PHASES * base;
        const to = listed * stride;
        for (let q = 0; q <= count; q++) out[to + q] += w * values[q];
        out[to + count + 1] += w * byHeight * vRoll + moved * centreRoll;
        out[to + count + 2] += w * byHeight * vSmile + moved * centreSmile;
        out[to + count + 3] += base * (blurTaps[tap] + f * (blurTaps[tap + 1] - blurTaps[tap]));
        out[to + count + 4] += w * bySigma;
        out[to + count + 5] += w * byWidth;
      }
    }
  }
}

/** All heights of a cell as one stretch at the mean place of their light. */
function merged(
  curve: CurveOnNodes,
  slopes: readonly CurveSlope[],
  i: number,
  sum: number,
  part: Stretch,
): void {
  const { place, light, weights, nodes } = curve;
  const n = nodes.length;
  let a = 0;
  let b = 0;
  for (let j = 0; j < weights.length; j++) {
    const at = j * n + i;
    const here = 0.5 * (light[at] + light[at + 1]) * weights[j];
    if (here < 1e-8) continue;
    a += here * place[at];
    b += here * place[at + 1];
  }
  a /= sum;
  b /= sum;
  for (let q = 0; q < slopes.length; q++) {
    const slope = slopes[q];
    let lightSlope = 0;
    let aSlope = 0;
    let bSlope = 0;
    for (let j = 0; j < weights.length; j++) {
      const at = j * n + i;
      const here = 0.5 * (light[at] + light[at + 1]) * weights[j];
      if (here < 1e-8) continue;
      const more = 0.5 * (slope.light[at] + slope.light[at + 1]) * weights[j];
      lightSlope += more;
      aSlope += more * (place[at] - a) + here * slope.place[at];
      bSlope += more * (place[at + 1] - b) + here * slope.place[at + 1];
    }
    part.lightSlope[q] = lightSlope;
    part.aSlope[q] = aSlope / sum;
    part.bSlope[q] = bSlope / sum;
  }
  part.a = a;
  part.b = b;
  part.light = sum;
}

/** One height of a cell; false where it has no light. */
function single(
  curve: CurveOnNodes,
  slopes: readonly CurveSlope[],
  i: number,
  j: number,
  part: Stretch,
): boolean {
  const { place, light, weights, nodes } = curve;
  const at = j * nodes.length + i;
  const here = 0.5 * (light[at] + light[at + 1]) * weights[j];
  if (here < 1e-8) return false;
  for (let q = 0; q < slopes.length; q++) {
    const slope = slopes[q];
    part.lightSlope[q] = 0.5 * (slope.light[at] + slope.light[at + 1]) * weights[j];
    part.aSlope[q] = slope.place[at];
    part.bSlope[q] = slope.place[at + 1];
  }
  part.a = place[at];
  part.b = place[at + 1];
  part.light = here;
  return true;
}

/** Adds a stretch to the rows it crosses; the mean of the slit's image between its ends, and the slopes of that mean. */
function addStretch(
  part: Stretch,
  tables: Tables,
  row: RowSums,
  first: number,
  last: number,
  every: RowStep,
  count: number,
): void {
  const { a, b, light, aSlope, bSlope, lightSlope } = part;
  const { sums, each, height } = row;
  const { slit, bySigma, byWidth } = tables;
  const { shape, integral, reach } = slit;
  const top = shape.length - 1;
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  const run = high - low;
  const level = run < LEVEL;
  const middle = 0.5 * (a + b);
  const perRow = rowFall(height, first, last, every);
  const from = firstRow(first, (height[first] - high - reach) / perRow - 1, every);
  const to = Math.min(last, Math.ceil(first + (height[first] - low + reach) / perRow + 1));
  for (let r = from; r <= to; r += every) {
    let value: number;
    let byA: number;
    let byB: number;
    let sigma: number;
    let width: number;
    if (level) {
      const x = (height[r] - middle + reach) * PHASES;
      if (x <= 0 || x >= top) continue;
      const i = x | 0;
      const rise = shape[i + 1] - shape[i];
      value = shape[i] + (x - i) * rise;
      byA = byB = -0.5 * rise * PHASES;
      sigma = tableValue(bySigma.shape, x, top);
      width = tableValue(byWidth.shape, x, top);
    } else {
      // Mean between low and high: (I(v − low) − I(v − high))/run, I the running integral.
      const xLow = (height[r] - low + reach) * PHASES;
      const xHigh = (height[r] - high + reach) * PHASES;
      if (xHigh >= top || xLow <= 0) continue;
      value = (tableIntegral(integral, shape, xLow, top) - tableIntegral(integral, shape, xHigh, top)) / run;
      const byLow = (value - tableValue(shape, xLow, top)) / run;
      const byHigh = (tableValue(shape, xHigh, top) - value) / run;
      byA = a < b ? byLow : byHigh;
      byB = a < b ? byHigh : byLow;
      sigma =
        (tableIntegral(bySigma.integral, bySigma.shape, xLow, top) -
          tableIntegral(bySigma.integral, bySigma.shape, xHigh, top)) /
        run;
      width =
        (tableIntegral(byWidth.integral, byWidth.shape, xLow, top) -
          tableIntegral(byWidth.integral, byWidth.shape, xHigh, top)) /
        run;
    }
    const at = r * each;
    sums[at] += light * value;
    const lightA = light * byA;
    const lightB = light * byB;
    for (let q = 0; q < count; q++)
      sums[at + 1 + q] += lightSlope[q] * value + lightA * aSlope[q] + lightB * bSlope[q];
    sums[at + count + 1] -= lightA + lightB;
    sums[at + count + 2] += light * sigma;
    sums[at + count + 3] += light * width;
  }
}
