/** From gathered light to a picture whose spectral lines lean: each row is moved along by its height, then spread as slit, pixel and blur spread it. */
import { LEAN_PHASES, type LeaningTaps } from "./blur.ts";
import { clear, type Extent } from "./fold.ts";
import type { Leaning } from "./geometry.ts";
import type { Workspace } from "./workspace.ts";

/** Lengths of what `foldLeaning` needs in the workspace beside what `fold` does. */
export function leaningLengths(
  columns: number,
  rows: number,
  { half }: LeaningTaps,
): { rowTaps: number; rowStart: number; rowPart: number; across: number; picture: number } {
  return {
    // Vectors write four rows, three of them perhaps behind the last.
    picture: (rows + 3) * columns,
    rowTaps: (2 * half + 1) * rows,
    rowStart: rows,
    rowPart: rows,
    // First moment across, in places, of the light of each pixel; one row of nothing on either side.
    across: (rows + 5) * columns,
  };
}

/**
 * As `fold`, for rows that lie `shear` columns farther left for each row above the middle, light being moved up by `tilt` rows for each column that it is spread
 * to the right (to first order: a small part of a row). Every sum and product is rounded to single precision, as the kernel's vectors do.
 * @param spread weights as `leaningTaps` gives, for `extent.sub` places per column
 */
export function foldLeaning(
  space: Workspace,
  extent: Extent,
  stray: number,
  spread: LeaningTaps,
  { shear, tilt }: Pick<Leaning, "shear" | "tilt">,
): void {
  const { kernel, arrays } = space;
  const { gathered, low, high, from, to, picture, rowTaps, rowStart, rowPart, across } = arrays;
  const { columns, rows, sub, margin, pad, stride } = extent;
  const { fround } = Math;
  const { half } = spread;
  const [least, most] = placeRows(space, extent, spread, shear);
  // Half a slope for each of the two neighbours that it is taken from.
  const perPlace = fround(tilt / (2 * sub));
  if (kernel !== undefined) {
    const at = (array: ArrayBufferView): number => array.byteOffset;
    // biome-ignore format: one argument a name, as paint.as lists them
    kernel.foldLeaning(
      at(gathered), at(low), at(high), at(rowTaps), at(rowStart), at(rowPart), half, sub, at(picture), at(across), columns, rows,
      margin, pad, stride, least, most, stray, perPlace, at(from), at(to),
    );
    clear(space, extent);
    return;
  }
  const taps = 2 * half + 1;
  const faint = fround(stray);
  picture.fill(0, 0, rows * columns);
  across.fill(0, 0, (rows + 2) * columns);
  litRows(space, extent, half, least, most);
  for (let c = 0; c < columns; c++) {
    const first = (c * sub + margin - half) * stride;
    for (let r = Math.max(0, from[c]); r < Math.min(rows, to[c]); r++) {
      const start = first + rowStart[r];
      let light = 0;
      let moment = 0;
      for (let k = 0; k < taps; k++) {
        const part = fround(rowTaps[k * rows + r] * gathered[start + k * stride]);
        light = fround(light + part);
        moment = fround(moment + fround((half - k) * part));
      }
      picture[r * columns + c] = light;
      across[(r + 1) * columns + c] = moment + fround(rowPart[r] * light);
    }
  }
  for (let p = 0; p < rows * columns; p++) {
    const slope = fround(across[p + 2 * columns] - across[p]);
    picture[p] = faint + Math.max(0, fround(picture[p] + fround(perPlace * slope)));
  }
  clear(space, extent);
}

/** For each row: where it begins in `gathered` for place 0, its weights, and by which part of a place it lies above its place 0. Gives the least and the most place. */
function placeRows(
  { arrays }: Workspace,
  { rows, sub, pad, stride }: Extent,
  { table, half }: LeaningTaps,
  shear: number,
): [number, number] {
  const { rowTaps, rowStart, rowPart } = arrays;
  const taps = 2 * half + 1;
  let [least, most] = [0, 0];
  for (let r = 0; r < rows; r++) {
    const moved = (rows / 2 - (r + 0.5)) * shear * sub;
    const place = Math.floor(moved);
    least = Math.min(least, place);
    most = Math.max(most, place);
    rowStart[r] = place * stride + r + pad;
    rowPart[r] = moved - place;
    const phase = Math.floor((moved - place) * LEAN_PHASES + 0.5) * taps;
    for (let k = 0; k < taps; k++) rowTaps[k * rows + r] = table[phase + k];
  }
  return [least, most];
}

/** Rows of each column that any place lights which it takes light from. */
function litRows(
  { arrays }: Workspace,
  { columns, sub, margin, pad, stride }: Extent,
  half: number,
  least: number,
  most: number,
): void {
  const { low, high, from, to } = arrays;
  for (let c = 0; c < columns; c++) {
    const middle = c * sub + margin;
    let first = stride;
    let last = -1;
    for (let k = middle - half + least; k <= middle + half + most; k++) {
      if (low[k] < first) first = low[k]!;
      if (high[k] > last) last = high[k]!;
    }
    from[c] = first - pad;
    to[c] = last - pad;
  }
}

/** Places that a picture needs on either side for the rows' own moves. */
export function leaningRoom(rows: number, shear: number, sub: number): number {
  return Math.ceil((rows / 2) * Math.abs(shear) * sub) + 1;
}
