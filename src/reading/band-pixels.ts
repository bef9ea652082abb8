/** The pixels around a level line, as lists. */
import type { Band } from "./band-search.ts";
import type { LightFrame } from "./frame-light.ts";
import { alongAt, type Geometry, turnedBy } from "./geometry.ts";

/** Pixels near the line: their light and place in instrument axes; ordered column by column. */
export interface BandPixels {
  readonly count: number;
  readonly light: Float64Array;
  readonly along: Float64Array;
  readonly height: Float64Array;
  readonly column: Int32Array;
  readonly row: Int32Array;
}

/** Pixels at most nine rows outside the band, saturated ones left out. */
export function bandPixels(frame: LightFrame, band: Band, geometry: Geometry): BandPixels {
  const reach = Math.ceil(band.height / 2 + 9);
  const most = frame.columns * (2 * reach + 1);
  const light = new Float64Array(most);
  const along = new Float64Array(most);
  const height = new Float64Array(most);
  const column = new Int32Array(most);
  const row = new Int32Array(most);
  const s = Math.sin(geometry.roll);
  const k = Math.cos(geometry.roll);
  const turned = turnedBy(geometry);
  let count = 0;
  for (let c = 0; c < frame.columns; c++) {
    const x = c + 0.5 - frame.columns / 2;
    const middle = Math.floor(band.row + band.slope * x);
    for (let r = Math.max(0, middle - reach); r <= Math.min(frame.rows - 1, middle + reach); r++) {
      const i = r * frame.columns + c;
      if (frame.saturated[i] === 1) continue;
      light[count] = frame.light[i];
      along[count] = alongAt(turned, c + 0.5, r + 0.5);
      height[count] = -x * s + (frame.rows / 2 - r - 0.5) * k;
      column[count] = c;
      row[count] = r;
      count++;
    }
  }
  return { count, light, along, height, column, row };
}

/** Light and place of listed pixels of a frame; `along` and `height` are left out (empty). */
export function bandOfPixels(frame: LightFrame, list: Int32Array): BandPixels {
  return {
    count: list.length,
    light: Float64Array.from(list, (i) => frame.light[i]),
    along: new Float64Array(0),
    height: new Float64Array(0),
    column: list.map((i) => i % frame.columns),
    row: list.map((i) => Math.floor(i / frame.columns)),
  };
}
