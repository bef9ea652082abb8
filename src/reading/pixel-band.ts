/** Which pixels are worth fitting. */
import type { LightFrame } from "./frame-light.ts";

/**
 * Pixels worth fitting: everything within a few pixels of where the model has light, without the frame's outermost
 * columns (a blurred edge is darker than the model knows), struck and saturated pixels.
 */
export function pixelBand(
  image: Float64Array,
  frame: LightFrame,
  threshold: number,
  struck: Uint8Array | null,
  margin: { readonly columns: number; readonly rows: number; readonly edge: number },
): Int32Array {
  const { columns, rows } = frame;
  // Dilate separably: first along rows, then down columns.
  const wide = new Uint8Array(columns * rows);
  for (let r = 0; r < rows; r++) {
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
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r + margin.rows;
      if (r <= until[c]) band[r * columns + c] = 1;
    }
  }
  until.fill(rows);
  for (let r = rows - 1; r >= 0; r--) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r - margin.rows;
      if (r >= until[c]) band[r * columns + c] = 1;
    }
  }
  const chosen: number[] = [];
  for (let r = margin.edge; r < rows - margin.edge; r++) {
    for (let c = margin.edge; c < columns - margin.edge; c++) {
      const i = r * columns + c;
      if (band[i] === 1 && frame.saturated[i] === 0 && struck?.[i] !== 1) chosen.push(i);
    }
  }
  return Int32Array.from(chosen);
}
