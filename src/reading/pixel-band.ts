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
  // Dilate separably: first along rows, then down columns.
  const lit = litRows(image, columns, rows, threshold);
  const top = Math.max(0, lit.from - margin.rows);
  const bottom = Math.min(rows, lit.to + margin.rows);
  const wide = new Uint8Array(columns * rows);
  for (let r = lit.from; r < lit.to; r++) {
    const base = r * columns;
    let until = -1;
    for (let c = 0; c < columns; c++) {
      if (image[base + c] > threshold) until = c + margin.columns;
      if (c <= until) wide[base + c] = 1;
    }
    until = columns;
    for (let c = columns - 1; c >= 0; c--) {
      if (image[base + c] > threshold) until = c - margin.columns;
      if (c >= until) wide[base + c] = 1;
    }
  }
  const band = new Uint8Array(columns * rows);
  const until = new Int32Array(columns).fill(-1);
  for (let r = top; r < bottom; r++) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r + margin.rows;
      if (r <= until[c]) band[r * columns + c] = 1;
    }
  }
  until.fill(rows);
  for (let r = bottom - 1; r >= top; r--) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r - margin.rows;
      if (r >= until[c]) band[r * columns + c] = 1;
    }
  }
  const chosen = new Int32Array((bottom - top) * columns);
  let count = 0;
  for (let r = Math.max(margin.edge, top); r < Math.min(rows - margin.edge, bottom); r++) {
    for (let c = margin.edge; c < columns - margin.edge; c++) {
      const i = r * columns + c;
      if (band[i] === 1 && frame.saturated[i] === 0) chosen[count++] = i;
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
