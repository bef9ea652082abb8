/**
 * The hot loops of a Jacobian of pixels: a stretch added to its rows, a cell spread over its pixels, slopes weighed and
 * turned from rows to columns. `slope-kernel.ts` has the same on WebAssembly vectors, with the same bits as result.
 */
import { addGram, GRAM_BLOCK } from "../numerics/least-squares-qr.ts";
import { LEVEL, type RowStep } from "./pixel-model.ts";
import { type Kernel, PHASES, type SlitTable, tableIntegral, tableValue } from "./slit-tables.ts";

export interface Tables {
  readonly slit: SlitTable;
  readonly bySigma: SlitTable;
  readonly byWidth: SlitTable;
  readonly plumb: Kernel;
  readonly byBlur: Kernel;
}

/** Rows' sums of one cell: light, its slopes in the curve's parameters, in v, in the level blur and in the level width. */
export interface RowSums {
  /** rows × (4 + slopes) */
  readonly sums: Float64Array;
  /** height v and column coordinate of the cell on each row */
  readonly height: Float64Array;
  readonly centre: Float64Array;
}

/** One level or slanting stretch: its ends, its light, and their slopes. */
export interface Stretch {
  a: number;
  b: number;
  light: number;
  readonly aSlope: Float64Array;
  readonly bSlope: Float64Array;
  readonly lightSlope: Float64Array;
}

/** A cell's place and the bench it is drawn on. */
export interface Cell {
  along: number;
  length: number;
  /** mean height of its light, v */
  mean: number;
  /** part of the roll by which it leans less than the line (`uprightPart`), and sin(roll) times its slopes in plumb blur, level blur and level width */
  upright: number;
  byBlur: number;
  bySigma: number;
  byWidth: number;
  readonly smile: number;
  /** sine and cosine of the roll */
  readonly s: number;
  readonly k: number;
  readonly columns: number;
  readonly rows: number;
  /** place of every pixel of the frame in the list, −1 where it is not listed */
  readonly index: Int32Array;
  /** list length × (6 + slopes) */
  readonly light: Float64Array;
  /** scratch, 1 + slopes */
  readonly values: Float64Array;
}

/** How the numbers of a pixel become a row of the Jacobian. */
export interface Turn {
  /** list length × stride */
  readonly light: Float64Array;
  readonly stride: number;
  /** factors of each pixel for all slopes, and for the background's */
  readonly weight: Float64Array;
  readonly weightDark: Float64Array;
  /** place of each term among a pixel's numbers, 0 for the brightness, −1 for the background */
  readonly slots: Int32Array;
  readonly perBrightness: number;
  /** scratch, (terms + 4) × `BLOCK` */
  readonly stage: Float64Array;
}

export interface Room {
  /** zeros */
  doubles(count: number): Float64Array;
  /** the same numbers, where the loops read them */
  words(from: Int32Array): Int32Array;
}

export interface SlopeLoops {
  /** arrays for the other functions, together at most so many bytes; those handed out before are dead */
  room(bytes: number): Room;
  /** adds a stretch to the rows `from`…`to`: the mean of the slit's image between its ends, and the slopes of that mean */
  addStretch(part: Stretch, tables: Tables, row: RowSums, from: number, to: number, every: RowStep): void;
  /** spreads the rows' sums over the listed pixels */
  spreadCell(cell: Cell, tables: Tables, row: RowSums, first: number, last: number, every: RowStep): void;
  /** writes slopes column by column, `apart` numbers from one to the next */
  turn(job: Turn, out: Float64Array, apart: number): void;
  /**
   * Adds the products of the slopes' columns with each other and with `rhs`, a number for each pixel.
   * @param gram terms × terms, (j, i) with i ≤ j
   */
  addProducts(job: Turn, rhs: Float64Array, gram: Float64Array, moment: Float64Array): void;
}

/** Pixels taken together, so that all their slopes stay in the processor's nearest memory. */
export const BLOCK = GRAM_BLOCK;

export const plainLoops: SlopeLoops = {
  room: () => ({ doubles: (count) => new Float64Array(count), words: (from) => from }),
  addStretch,
  spreadCell,
  turn,
  addProducts,
};

function addStretch(
  part: Stretch,
  tables: Tables,
  row: RowSums,
  from: number,
  to: number,
  every: RowStep,
): void {
  const { a, b, light, aSlope, bSlope, lightSlope } = part;
  const { sums, height } = row;
  const count = aSlope.length;
  const each = 4 + count;
  const { slit, bySigma, byWidth } = tables;
  const { shape, integral, reach } = slit;
  const top = shape.length - 1;
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  const run = high - low;
  const level = run < LEVEL;
  const middle = 0.5 * (a + b);
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

function spreadCell(
  cell: Cell,
  tables: Tables,
  row: RowSums,
  first: number,
  last: number,
  every: RowStep,
): void {
  const { along, length, smile, s, k, columns, rows, index, light: out, values } = cell;
  const { sums, height, centre } = row;
  const count = values.length - 1;
  const each = 4 + count;
  const stride = 6 + count;
  const t = s / k;
  const { values: taps, half } = tables.plumb;
  const blurTaps = tables.byBlur.values;
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
    const above = v - cell.mean;
    const leaned = s * (1 - cell.upright);
    const centreRoll =
      uRoll * k -
      (along + smile * straight * straight) * s -
      vRoll * leaned -
      v * k +
      cell.upright * k * above;
    const uSmile = straight * straight;
    const vSmile = -uSmile * t;
    const centreSmile = uSmile * k - vSmile * leaned;
    const bySigma = sums[from + count + 2] * length;
    const byWidth = sums[from + count + 3] * length;
    const byHeight = sums[from + count + 1] * length;
    const turned = byHeight * vRoll;
    const bentUp = byHeight * vSmile;
    const asideBlur = above * cell.byBlur;
    const asideSigma = above * cell.bySigma;
    const asideWidth = above * cell.byWidth;
    const x0 = centre[r];
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
      out[to + count + 1] += w * turned + moved * centreRoll;
      out[to + count + 2] += w * bentUp + moved * centreSmile;
      out[to + count + 3] +=
        base * (blurTaps[tap] + f * (blurTaps[tap + 1] - blurTaps[tap])) + moved * asideBlur;
      out[to + count + 4] += w * bySigma + moved * asideSigma;
      out[to + count + 5] += w * byWidth + moved * asideWidth;
    }
  }
}

function turn(job: Turn, out: Float64Array, apart: number): void {
  const count = job.weight.length;
  for (let from = 0; from < count; from += BLOCK)
    turnBlock(job, from, Math.min(from + BLOCK, count), out, from, apart);
}

/** The pixels `from` to before `to`, columns `apart` numbers from one to the next, from `start` on. */
function turnBlock(
  { light, stride, weight, weightDark, slots, perBrightness }: Turn,
  from: number,
  to: number,
  out: Float64Array,
  start: number,
  apart: number,
): void {
  for (let k = 0; k < slots.length; k++) {
    const column = k * apart + start - from;
    const slot = slots[k];
    if (slot < 0) {
      for (let i = from; i < to; i++) out[column + i] = weightDark[i];
      continue;
    }
    const factor = slot === 0 ? perBrightness : 1;
    for (let i = from; i < to; i++) out[column + i] = light[i * stride + slot] * factor * weight[i];
  }
}

function addProducts(job: Turn, rhs: Float64Array, gram: Float64Array, moment: Float64Array): void {
  for (let from = 0; from < rhs.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, rhs.length);
    turnBlock(job, from, to, job.stage, 0, to - from);
    addGram(job.stage, rhs.subarray(from, to), to - from, job.slots.length, gram, moment);
  }
}
