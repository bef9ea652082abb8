/** Which pixels are worth fitting. */
import type { LightFrame } from "./frame-light.ts";

/**
 * Pixels worth fitting: everything within a few pixels of where the model has light, without the frame's outermost
 * columns (a blurred edge is darker than the model knows), and saturated pixels.
 */
export function pixelBand(
  image: Float64Array,
  frame: LightFrame,
  threshold: number,
  margin: { readonly columns: number; readonly rows: number; readonly edge: number },
): Int32Array {
  const { columns, rows } = frame;
  // Dilate separably: first along rows, then down columns, four pixels at a time.
  const lit = litRows(image, columns, rows, threshold);
  const top = Math.max(0, lit.from - margin.rows);
  const bottom = Math.min(rows, lit.to + margin.rows);
  const words = Math.ceil(columns / 4);
  const wide = new Uint8Array(4 * words * (lit.to - lit.from));
  for (let r = lit.from; r < lit.to; r++) {
    const base = r * columns;
    const to = 4 * words * (r - lit.from);
    /** what is marked already */
    let until = 0;
    for (let c = 0; c < columns; c++) {
      if (!(image[base + c] > threshold)) continue;
      const end = Math.min(columns, c + margin.columns + 1);
      for (let at = Math.max(until, c - margin.columns); at < end; at++) wide[to + at] = 1;
      until = end;
    }
  }
  const band = new Uint8Array(4 * words * (bottom - top));
  const wideWords = new Uint32Array(wide.buffer);
  const bandWords = new Uint32Array(band.buffer);
  for (let r = top; r < bottom; r++) {
    const to = (r - top) * words;
    const last = Math.min(lit.to - 1, r + margin.rows);
    for (let near = Math.max(lit.from, r - margin.rows); near <= last; near++) {
      const from = (near - lit.from) * words;
      for (let w = 0; w < words; w++) bandWords[to + w] |= wideWords[from + w];
    }
  }
  const chosen = new Int32Array((bottom - top) * columns);
  let count = 0;
  for (let r = Math.max(margin.edge, top); r < Math.min(rows - margin.edge, bottom); r++) {
    for (let c = margin.edge; c < columns - margin.edge; c++) {
      if (band[4 * words * (r - top) + c] === 0) continue;
      const i = r * columns + c;
      if (frame.saturated[i] === 0) chosen[count++] = i;
    }
  }
  return chosen.slice(0, count);
}

/** Rows that hold light, from the first to behind the last. */
function litRows(
  image: Float64Array,
  columns: number,
  rows: number,
  threshold: number,
): { from: number; to: number } {
  const dark = (r: number): boolean => {
    for (let i = r * columns; i < (r + 1) * columns; i++) if (image[i] > threshold) return false;
    return true;
  };
  let from = 0;
  let to = rows;
  while (from < to && dark(from)) from++;
  while (to > from && dark(to - 1)) to--;
  return { from, to };
}
