/**
 * The model picture and its slopes in every parameter at once: what `pixel-model.ts` draws, differentiated by hand.
 * One pass shares all that the parameters have in common, the light's place on the pixels above all, which makes a
 * Jacobian cost about as much as three pictures instead of one per parameter.
 */
import type { Geometry } from "./geometry.ts";
import { type CurveOnNodes, firstRow, MERGE, rowFall, type RowStep, uprightPart } from "./pixel-model.ts";
import type { Cell, Room, RowSums, SlopeLoops, Stretch, Tables } from "./slope-loops.ts";
import {
  type Blur,
  blurKernel,
  blurSlopeKernel,
  type Kernel,
  type SlitTable,
  slitSlopeTable,
  slitTable,
  variancesOf,
} from "./slit-tables.ts";

/** Slope of the curve's arrays in one parameter, heights × nodes. */
export interface CurveSlope {
  readonly place: Float64Array;
  readonly light: Float64Array;
}

/** Slopes that do not go through the curve, in their order behind the curve's. */
export const SHAPE_SLOPES = ["roll", "smile", "plumb blur", "level blur", "level width"] as const;

/** Where and how the slopes are drawn. */
export interface SlopeJob {
  /** place of every pixel of the frame in the list, −1 where it is not listed */
  readonly index: Int32Array;
  /** pixels listed */
  readonly count: number;
  readonly every: RowStep;
  readonly loops: SlopeLoops;
  /** bytes that the caller will want from the same room */
  readonly spare: number;
}

export interface DrawnSlopes {
  /** list length × (1 + slopes + 5), row-major; lives until the loops give out another room */
  readonly light: Float64Array;
  readonly room: Room;
}

/** For each listed pixel, the light and its slopes: the curve's in the order given, then `SHAPE_SLOPES`. */
export function renderSlopes(
  curve: CurveOnNodes,
  slopes: readonly CurveSlope[],
  geometry: Geometry,
  blur: Blur,
  job: SlopeJob,
): DrawnSlopes {
  const { every, loops } = job;
  const { columns, rows, smile } = geometry;
  const { place, light, weights, nodes } = curve;
  const n = nodes.length;
  const heights = weights.length;
  const count = slopes.length;
  const each = 4 + count;
  const plain = tablesOf(blur);
  const size = job.count * (1 + count + SHAPE_SLOPES.length);
  const tableSize = 6 * plain.slit.shape.length + 2 * plain.plumb.values.length;
  const doubles = size + tableSize + rows * (each + 2) + 4 * count + 1;
  const room = loops.room(8 * doubles + 4 * job.index.length + ALIGNED + job.spare);
  const tables = placed(plain, room);
  const row: RowSums = {
    sums: room.doubles(rows * each),
    height: room.doubles(rows),
    centre: room.doubles(rows),
  };
  const part: Stretch = {
    a: 0,
    b: 0,
    light: 0,
    aSlope: room.doubles(count),
    bSlope: room.doubles(count),
    lightSlope: room.doubles(count),
  };
  const s = Math.sin(geometry.roll);
  const k = Math.cos(geometry.roll);
  const variances = variancesOf(blur);
  const cell: Cell = {
    along: 0,
    length: 0,
    mean: 0,
    upright: 0,
    byBlur: 0,
    bySigma: 0,
    byWidth: 0,
    smile,
    s,
    k,
    columns,
    rows,
    index: room.words(job.index),
    light: room.doubles(size),
    values: room.doubles(1 + count),
  };
  const { reach } = tables.slit;
  const { sums, height, centre } = row;
  const add = (first: number, last: number): void => {
    const perRow = rowFall(height, first, last, every);
    const from = firstRow(first, (height[first] - Math.max(part.a, part.b) - reach) / perRow - 1, every);
    const to = Math.min(
      last,
      Math.ceil(first + (height[first] - Math.min(part.a, part.b) + reach) / perRow + 1),
    );
    loops.addStretch(part, tables, row, from, to, every);
  };
  for (let i = 0; i + 1 < n; i++) {
    const along = 0.5 * (nodes[i] + nodes[i + 1]);
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    let lowMiddle = low;
    let highMiddle = high;
    let sum = 0;
    let places = 0;
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
      places += here * (a + b);
      squares += here * (a * a + a * b + b * b);
    }
    if (sum < 1e-7) continue;
    const mean = places / (2 * sum);
    const upright = uprightPart(variances, squares / (3 * sum) - mean * mean);
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
      centre[r] = columns / 2 + u * k - v * s + s * upright * (v - mean);
    }
    sums.fill(0, first * each, (last + 1) * each);
    if (highMiddle - lowMiddle < MERGE) {
      merged(curve, slopes, i, sum, part);
      add(first, last);
    } else for (let j = 0; j < heights; j++) if (single(curve, slopes, i, j, part)) add(first, last);
    cell.along = along;
    cell.mean = mean;
    cell.upright = upright;
    // Its slopes: across/(up + places), with the variances as `variancesOf` has them. How the places follow the curve is left out.
    const perWhole = (s * upright) / variances.across;
    cell.byBlur = perWhole * 2 * blur.sigmaWidth;
    cell.bySigma = -perWhole * upright * 2 * blur.sigmaHeight;
    cell.byWidth = (-perWhole * upright * blur.slitHeight) / 6;
    cell.length = nodes[i + 1] - nodes[i];
    loops.spreadCell(cell, tables, row, first, last, every);
  }
  return { light: cell.light, room };
}

/** Bytes that a room may lose between its arrays. */
const ALIGNED = 1024;

function tablesOf(blur: Blur): Tables {
  return {
    slit: slitTable(blur),
    bySigma: slitSlopeTable(blur, "sigmaHeight"),
    byWidth: slitSlopeTable(blur, "slitHeight"),
    plumb: blurKernel(blur),
    byBlur: blurSlopeKernel(blur),
  };
}

/** The same tables where the loops read them. */
function placed({ slit, bySigma, byWidth, plumb, byBlur }: Tables, room: Room): Tables {
  const copied = (from: Float64Array): Float64Array => {
    const to = room.doubles(from.length);
    to.set(from);
    return to;
  };
  const table = ({ shape, integral, reach }: SlitTable): SlitTable => ({
    shape: copied(shape),
    integral: copied(integral),
    reach,
  });
  const kernel = ({ values, half }: Kernel): Kernel => ({ values: copied(values), half });
  return {
    slit: table(slit),
    bySigma: table(bySigma),
    byWidth: table(byWidth),
    plumb: kernel(plumb),
    byBlur: kernel(byBlur),
  };
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
