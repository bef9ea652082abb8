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
  const lit = litRows(image, columns, rows, threshold);
  const first = Math.max(margin.edge, lit.from - margin.rows);
  const end = Math.min(rows - margin.edge, lit.to + margin.rows);
  /** the last row so far that has light within the margin of a column */
  const latest = new Int32Array(columns).fill(-rows);
  const chosen = new Int32Array(Math.max(0, end - first) * columns);
  let count = 0;
  let seen = Math.max(lit.from, first - margin.rows);
  for (let r = first; r < end; r++) {
    for (const next = Math.min(lit.to, r + margin.rows + 1); seen < next; seen++)
      markLight(image, seen, columns, threshold, margin.columns, latest);
    for (let c = margin.edge; c < columns - margin.edge; c++) {
      if (latest[c] < r - margin.rows) continue;
      const i = r * columns + c;
      if (frame.saturated[i] === 0) chosen[count++] = i;
    }
  }
  return chosen.slice(0, count);
}

/** Writes a row's number to all columns that have light of that row within the margin. */
function markLight(
  image: Float64Array,
  row: number,
  columns: number,
  threshold: number,
  margin: number,
  latest: Int32Array,
): void {
  const base = row * columns;
  /** what is marked already */
  let until = 0;
  for (let c = 0; c < columns; c++) {
    if (!(image[base + c] > threshold)) continue;
    const end = Math.min(columns, c + margin + 1);
    for (let at = Math.max(until, c - margin); at < end; at++) latest[at] = row;
    until = end;
  }
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
