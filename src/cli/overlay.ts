/** The photograph in grey with the reading drawn over it: the fitted curve in copper, trace points in blue. */

import type { Frame } from "../picture/index.ts";
import type { Reading } from "../reading/index.ts";

const COPPER = [224, 132, 72] as const;
const BLUE = [110, 160, 240] as const;

/**
 * @param frame the photograph that was read
 * @returns an 8-bit RGB frame of the same size; the photograph's samples above its darker half with a square-root stretch, so that faint
 *   branches are seen under the drawing
 */
export function overlayFrame(frame: Frame, reading: Reading): Frame {
  const { columns, rows, channels } = frame;
  const out = new Uint8Array(columns * rows * 3);
  const { dark, span } = levels(frame);
  for (let i = 0; i < columns * rows; i++) {
    for (let c = 0; c < 3; c++) {
      const sample = frame.samples[i * channels + (channels === 3 ? c : 0)];
      out[3 * i + c] = Math.round(255 * Math.sqrt(Math.min(1, Math.max(0, (sample - dark) / span))));
    }
  }
  const { column, row, transmission } = reading.curve;
  for (let i = 1; i < column.length; i++) {
    if (transmission[i] > 0.02 && transmission[i - 1] > 0.02) {
      segment(out, columns, rows, column[i - 1], row[i - 1], column[i], row[i]);
    }
  }
  for (const point of reading.trace) dot(out, columns, rows, point.column, point.row, BLUE);
  return { columns, rows, channels: 3, depth: 8, samples: out };
}

/** The sample below which half of the picture lies, and how far above it 99.9 % end. */
function levels(frame: Frame): { readonly dark: number; readonly span: number } {
  const sorted = Float64Array.from(frame.samples).sort();
  const dark = sorted[sorted.length >> 1];
  return { dark, span: Math.max(1, sorted[Math.floor((sorted.length - 1) * 0.999)] - dark) };
}

/** Pixel coordinates: the first pixel spans 0 to 1. */
function dot(
  out: Uint8Array,
  columns: number,
  rows: number,
  x: number,
  y: number,
  colour: readonly [number, number, number],
): void {
  const c = Math.floor(x);
  const r = Math.floor(y);
  if (c < 0 || r < 0 || c >= columns || r >= rows) return;
  for (let k = 0; k < 3; k++) out[3 * (r * columns + c) + k] = colour[k];
}

function segment(
  out: Uint8Array,
  columns: number,
  rows: number,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
): void {
  const steps = Math.min(
    4 * (columns + rows),
    Math.ceil(2 * Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0), 0.5)),
  );
  for (let s = 0; s <= steps; s++)
    dot(out, columns, rows, x0 + ((x1 - x0) * s) / steps, y0 + ((y1 - y0) * s) / steps, COPPER);
}
