/** From gathered light to a picture whose spectral lines lean: each row is moved along by its height, then spread as slit, pixel and blur spread it. */
import { LEAN_PHASES, type leaningTaps } from "./blur.ts";
import { clear, type Extent } from "./fold.ts";
import type { Leaning } from "./geometry.ts";
import type { Workspace } from "./workspace.ts";

/**
 * As `fold`, for rows that lie `shear` columns farther left for each row above the middle, light being moved up by `tilt` rows for each column that it is spread to the right (to first order: a small part of a row). Sums in single precision; no kernel of its own, so that the bytes
 * are the same with and without WebAssembly.
 * @param spread weights as `leaningTaps` gives, for `extent.sub` places per column
 */
export function foldLeaning(
  space: Workspace,
  extent: Extent,
  stray: number,
  spread: ReturnType<typeof leaningTaps>,
  { shear, tilt }: Pick<Leaning, "shear" | "tilt">,
): void {
  const { gathered, low, high, column, picture } = space.arrays;
  const { columns, rows, sub, margin, pad, stride } = extent;
  const { table, half } = spread;
  const taps = 2 * half + 1;
  const faint = Math.fround(stray);
  // Of each row: where it begins in `gathered` for place 0, and where its weights begin.
  const start = new Int32Array(rows);
  const weights = new Int32Array(rows);
  // By which part of a place a row's point lies above its place 0.
  const part = new Float32Array(rows);
  // First moment across, in places, of the light of each row of a column; one row of nothing on either side.
  const across = new Float32Array(rows + 2);
  // Half of it for each of the two neighbours that a slope is taken from.
  const perPlace = tilt / (2 * sub);
  let [least, most] = [0, 0];
  for (let r = 0; r < rows; r++) {
    const moved = (rows / 2 - (r + 0.5)) * shear * sub;
    const place = Math.floor(moved);
    least = Math.min(least, place);
    most = Math.max(most, place);
    start[r] = place * stride + r + pad;
    part[r] = moved - place;
    weights[r] = Math.floor((moved - place) * LEAN_PHASES + 0.5) * taps;
  }
  picture.fill(stray, 0, rows * columns);
  for (let c = 0; c < columns; c++) {
    const from = c * sub + margin - half;
    let first = stride;
    let last = -1;
    for (let k = from + least; k < from + most + taps; k++) {
      if (low[k] < first) first = low[k]!;
      if (high[k] > last) last = high[k]!;
    }
    first = Math.max(first - pad, 0);
    last = Math.min(last - pad, rows);
    if (last <= first) continue;
    column.fill(0, first, last);
    across.fill(0, first, last + 2);
    for (let k = 0; k < taps; k++) {
      const base = (from + k) * stride;
      const right = half - k;
      for (let r = first; r < last; r++) {
        const light = table[weights[r] + k] * gathered[base + start[r]];
        column[r] += light;
        across[r + 1] += right * light;
      }
    }
    for (let r = first; r < last; r++) across[r + 1] += part[r] * column[r];
    for (let r = first; r < last; r++) {
      const tilted = column[r] + perPlace * (across[r + 2] - across[r]);
      picture[r * columns + c] = faint + Math.max(0, tilted);
    }
  }
  clear(space, extent);
}

/** Places that a picture needs on either side for the rows' own moves. */
export function leaningRoom(rows: number, shear: number, sub: number): number {
  return Math.ceil((rows / 2) * Math.abs(shear) * sub) + 1;
}
