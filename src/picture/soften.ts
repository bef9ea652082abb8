/** Blur that changes from colour to colour: a pass over the finished light, taken only where a lens leaves some colours out of focus. */
import type { Sensor } from "./light.ts";

/** Widths of the blur in pixels at each column: a rectangle with straight edges, as a beam out of focus leaves it. */
export interface Softness {
  readonly height: Float32Array;
  readonly width: Float32Array;
}

/**
 * Spreads the light of every column over a box `height` long and `width` wide, in place. Light is kept to rounding but for what leaves the sensor.
 */
export function soften(light: Float32Array, soft: Softness, { columns, rows }: Omit<Sensor, "pixel">): void {
  const sums = new Float64Array(rows + 1);
  for (let c = 0; c < columns; c++) {
    const long = soft.height[c];
    if (!(long > 0)) continue;
    for (let r = 0; r < rows; r++) sums[r + 1] = sums[r] + light[r * columns + c];
    for (let r = 0; r < rows; r++) {
      const from = upTo(sums, r + 0.5 - long / 2, rows);
      light[r * columns + c] = (upTo(sums, r + 0.5 + long / 2, rows) - from) / long;
    }
  }
  const row = new Float64Array(columns);
  for (let r = 0; r < rows; r++) {
    row.fill(0);
    for (let c = 0; c < columns; c++) {
      const value = light[r * columns + c];
      const wide = soft.width[c];
      if (!(wide > 0)) {
        row[c] += value;
        continue;
      }
      const left = c + 0.5 - wide / 2;
      const right = left + wide;
      const last = Math.min(columns - 1, Math.ceil(right) - 1);
      for (let k = Math.max(0, Math.floor(left)); k <= last; k++) {
        row[k] += (value * (Math.min(right, k + 1) - Math.max(left, k))) / wide;
      }
    }
    for (let c = 0; c < columns; c++) light[r * columns + c] = row[c];
  }
}

/** Light above a place between rows; none comes from beyond the picture. */
function upTo(sums: Float64Array, at: number, rows: number): number {
  if (at <= 0) return 0;
  if (at >= rows) return sums[rows];
  const r = Math.floor(at);
  return sums[r] + (sums[r + 1] - sums[r]) * (at - r);
}
