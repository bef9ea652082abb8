/** From heights and positions on the sensor to pixels: tilt of the slit, bow of the lines, roll of the camera. */
import { cos, sin, tan } from "../numerics/elementary/index.ts";
import type { ImageScale } from "../path/api.ts";
import type { CameraInput } from "./api.ts";

/**
 * Numbers of the mapping, lengths in pixels. With X to the right and Y up from the middle of the picture:
 * X ← X + bow·Y² (curved lines: the disperser bows them by the height along its slit), Y ← Y + slope·X with the X of before (level slit tilted), then both
 * turned by the roll about the middle;
 * column = columns/2 + X, row = rows/2 − Y, counted from the edges of the first pixel.
 */
export interface Geometry {
  readonly slope: number;
  readonly bow: number;
  readonly cosine: number;
  readonly sine: number;
  /** column and row of the middle */
  readonly middleColumn: number;
  readonly middleRow: number;
}

export function geometryOf(
  scale: ImageScale,
  smile: number,
  camera: Pick<CameraInput, "pixel" | "columns" | "rows">,
): Geometry {
  return {
    slope: tan(scale.levelSlitTilt),
    bow: smile * camera.pixel,
    cosine: cos(scale.roll),
    sine: sin(scale.roll),
    middleColumn: camera.columns / 2,
    middleRow: camera.rows / 2,
  };
}
