/** Colours from a mosaic of red, green, green and blue pixels. */
import type { CameraInput, Frame } from "./api.ts";
import { screenValue } from "./colour.ts";
import { lightOfFrame } from "./view.ts";

/**
 * Three channels from a mosaic (red in the upper left corner): each missing colour is the mean of its nearest neighbours of that colour, two or four of them
 * (bilinear; the plain standard method). Sharp edges get coloured fringes a pixel wide: measure in the mosaic, look at this.
 * @param frame one channel
 * @returns interleaved red, green, blue of the same depth
 */
export function demosaic(frame: Frame): Frame {
  const { columns, rows, samples: raw, depth } = frame;
  if (frame.channels !== 1) return frame;
  const samples = depth === 8 ? new Uint8Array(raw.length * 3) : new Uint16Array(raw.length * 3);
  const near = (r: number, c: number, wanted: 0 | 1 | 2): number => {
    if (filterAt(r, c) === wanted) return raw[r * columns + c];
    let sum = 0;
    let count = 0;
    for (let y = Math.max(0, r - 1); y <= Math.min(rows - 1, r + 1); y++) {
      for (let x = Math.max(0, c - 1); x <= Math.min(columns - 1, c + 1); x++) {
        if (filterAt(y, x) !== wanted) continue;
        sum += raw[y * columns + x];
        count++;
      }
    }
    return sum / count;
  };
  for (let r = 0, to = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      for (const wanted of [0, 1, 2] as const) samples[to++] = Math.round(near(r, c, wanted));
    }
  }
  return { columns, rows, channels: 3, depth, samples };
}

/** 0 red, 1 green, 2 blue. */
export function filterAt(r: number, c: number): 0 | 1 | 2 {
  return ((r & 1) + (c & 1)) as 0 | 1 | 2;
}

/**
 * A mosaic as a picture to look at: the camera's own colours, no white balance.
 * @param full light that shows as full brightness, as in `lightOfFrame`
 * @returns RGBA, row-major, opaque
 */
export function mosaicView(frame: Frame, camera: CameraInput, full = 1): Uint8ClampedArray<ArrayBuffer> {
  const { columns, rows, samples, depth } = demosaic(frame);
  const out = new Uint8ClampedArray(columns * rows * 4).fill(255);
  for (let channel = 0; channel < 3; channel++) {
    const own = depth === 8 ? new Uint8Array(columns * rows) : new Uint16Array(columns * rows);
    for (let p = 0; p < own.length; p++) own[p] = samples[3 * p + channel];
    const light = lightOfFrame(
      { columns, rows, channels: 1, depth, samples: own },
      camera.gamma,
      camera.blackLevel,
      full,
    );
    for (let p = 0; p < light.length; p++) out[4 * p + channel] = Math.round(255 * screenValue(light[p]));
  }
  return out;
}
