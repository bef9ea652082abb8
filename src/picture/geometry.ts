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

/** A turned picture as `lay` draws it, with upright images of the slit, and the shear that then leans them (`foldLeaning`). */
export interface Leaning {
  readonly geometry: Geometry;
  /** factors on places along the spectrum and on heights */
  readonly along: number;
  readonly up: number;
  /** columns by which a row is moved left for each row that it lies above the middle */
  readonly shear: number;
  /** rows by which light is moved up for each column that it is spread to the right */
  readonly tilt: number;
}

/**
 * Images of the slits turn with the camera, and so does the blur by a beam that is not as wide as high; what of the blur is round, and the pixel, look the same as before. Of one point of light
 * the covariance between columns and rows becomes tan(roll) times the variance of all that turns along the height, less the same across. Up and across the spread keeps its profile: it leans by
 * the share of the first in its variance and tilts by that of the second, which gives that covariance. Laid down are columns of the turned picture moved by the lean times the height, rows as they are.
 * @param height image of the level slit and standard deviation of the blur along the height, pixels
 * @param width image of the plumb slit and standard deviation of the blur across, pixels
 */
export function leaningOf(
  g: Geometry,
  height: readonly [number, number],
  width: readonly [number, number],
): Leaning {
  const round = Math.min(height[1], width[1]);
  const turningShare = ([slit, sigma]: readonly [number, number]): number => {
    const turning = slit * slit + 12 * (sigma * sigma - round * round);
    return turning / (turning + 12 * round * round + 1);
  };
  const shear = (g.sine / g.cosine) * turningShare(height);
  const tilt = (g.sine / g.cosine) * turningShare(width);
  // Of a point (x, own + slope·x): row x·sin + Y·cos, column x·cos − Y·sin + shear·row, written as a turn by another angle.
  const turn = g.sine / g.cosine - shear;
  const cosine = 1 / Math.sqrt(1 + turn * turn);
  const sine = turn * cosine;
  const row = g.sine + g.cosine * g.slope;
  const column = g.cosine - g.sine * g.slope + shear * row;
  const along = column * cosine + row * sine;
  const up = g.cosine / cosine;
  const slope = (row * cosine - column * sine) / along;
  const bow = (g.bow * (g.cosine + shear * g.sine)) / (cosine * up * up);
  return { geometry: { ...g, slope, bow, cosine, sine }, along, up, shear, tilt };
}
