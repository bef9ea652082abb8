/** Lamp frame: sharp lines seen through the whole length of the plumb slit, for the wavelength scale. */
import type { ImageScale, SpectralMap } from "../path/api.ts";
import { pointKernel, PHASES } from "./blur.ts";
import { geometryOf } from "./geometry.ts";
import type { Sensor } from "./light.ts";

export interface LampLine {
  /** vacuum wavelength, m */
  readonly wavelength: number;
  /** light relative to that of a line of 1 */
  readonly intensity: number;
}

/**
 * Picture of lamp lines as relative light: 1 = middle of a line of intensity 1. Lines outside the reach or off the sensor draw nothing.
 * Each line is the plumb slit's image ⊗ pixel ⊗ blur, bowed by the smile and turned with the camera; light along the slit is even.
 * @returns Float32Array, rows × columns, row-major, stray light added everywhere
 */
export function renderLamp(
  lines: readonly LampLine[],
  map: SpectralMap,
  scale: ImageScale,
  sensor: Sensor,
): Float32Array {
  const { columns, rows, pixel } = sensor;
  const out = new Float32Array(columns * rows).fill(scale.stray);
  const kernel = pointKernel(scale.plumbSlitWidth / pixel, scale.blurWidth / pixel);
  const g = geometryOf(scale, map.smile, sensor);
  for (const line of lines) {
    if (!(line.wavelength >= map.reach.shortest && line.wavelength <= map.reach.longest)) continue;
    const x0 = map.position(line.wavelength) / pixel;
    const light = line.intensity / kernel.peak;
    for (let r = 0; r < rows; r++) {
      // Height on the sensor before the roll that lands in the middle of this row; the bow is small, two rounds settle it.
      const up = g.middleRow - (r + 0.5);
      let y = (up - x0 * g.sine) / g.cosine;
      y = (up - (x0 + g.bow * y * y) * g.sine) / g.cosine;
      const x = x0 + g.bow * y * y;
      const at = g.middleColumn + x * g.cosine - y * g.sine - 0.5;
      const column = Math.floor(at);
      const phase = Math.round((at - column) * PHASES);
      const first = column - kernel.half;
      const from = Math.max(0, -first);
      const to = Math.min(kernel.taps, columns - first);
      for (let k = from; k < to; k++)
        out[r * columns + first + k] += light * kernel.table[phase * kernel.taps + k];
    }
  }
  return out;
}
