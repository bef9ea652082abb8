/** From light gathered at places along the width to the picture: each place spread as slit, pixel and blur spread it. */
import type { Workspace } from "./workspace.ts";

/** Rows and columns of the tile in which the kernel folds. */
export const TILE = 16;

/** Sizes of a picture and of the memory in which its light is gathered. */
export interface Extent {
  readonly columns: number;
  readonly rows: number;
  /** places per column */
  readonly sub: number;
  /** places on either side over which one place is spread */
  readonly reach: number;
  /** places before the first column's own */
  readonly margin: number;
  /** rows before the picture's first */
  readonly pad: number;
  /** places altogether, and rows of each */
  readonly width: number;
  readonly stride: number;
}

/**
 * Folds columns with the spread along the width into `picture`, stray light added everywhere. Every sum and product is
 * rounded to single precision, as the kernel's vectors do.
 */
export function fold(space: Workspace, extent: Extent, stray: number): void {
  const { kernel, arrays } = space;
  const { gathered, low, high, taps, from, to, column, picture } = arrays;
  const { columns, rows, sub, reach, margin, pad, stride } = extent;
  if (kernel !== undefined) {
    const at = (array: ArrayBufferView): number => array.byteOffset;
    // biome-ignore format: one argument a name, as paint.as lists them
    kernel.fold(
      at(gathered), at(low), at(high), at(taps), reach, sub, at(picture), columns, rows,
      margin, pad, stride, stray, at(from), at(to), at(column),
    );
    clear(space, extent);
    return;
  }
  const { fround } = Math;
  picture.fill(stray, 0, rows * columns);
  const faint = fround(stray);
  for (let c = 0; c < columns; c++) {
    const middle = c * sub + margin;
    let first = stride;
    let last = -1;
    for (let k = middle - reach; k <= middle + reach; k++) {
      if (low[k] < first) first = low[k]!;
      if (high[k] > last) last = high[k]!;
    }
    first = Math.max(first, pad);
    last = Math.min(last, rows + pad);
    if (last <= first) continue;
    for (let r = first, p = middle * stride + first; r < last; r++, p++) column[r] = taps[0] * gathered[p];
    for (let k = 1; k <= reach; k++) {
      const left = middle - k;
      const right = middle + k;
      // Outside a place's own rows there is nothing.
      const a = Math.max(first, Math.min(low[left], low[right]));
      const b = Math.min(last, Math.max(high[left], high[right]));
      for (let r = a, p = left * stride + a, q = right * stride + a; r < b; r++, p++, q++)
        column[r] += fround(taps[k] * fround(gathered[p] + gathered[q]));
    }
    // Differences of sums leave crumbs of 1e-8 on either side of nothing.
    for (let r = first, p = (first - pad) * columns + c; r < last; r++, p += columns)
      picture[p] = faint + Math.max(0, column[r]);
  }
  clear(space, extent);
}

/** Leaves the scratch all zero again, touching only what was written. */
export function clear(space: Workspace, { width, stride }: Extent): void {
  const { gathered, low, high } = space.arrays;
  if (space.kernel !== undefined) {
    space.kernel.clear(gathered.byteOffset, low.byteOffset, high.byteOffset, width, stride);
    return;
  }
  for (let c = 0; c < width; c++) {
    if (high[c] > low[c]) gathered.fill(0, c * stride + low[c], c * stride + high[c]);
  }
}
