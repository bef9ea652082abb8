/**
 * Types of the picture room. Pixel coordinates: the first pixel spans 0 to 1, rows count from the top.
 * Images are row-major: index = row · columns + column.
 */

import type { Table } from "../path/api.ts";

export type { CurveBundle } from "../path/api.ts";

export interface PixelSize {
  readonly columns: number;
  readonly rows: number;
}

/**
 * A picture as read from or written to a file, linear or not, one channel of grey or three of colour (interleaved RGB).
 * 8-bit files are kept as 0…255, 16-bit as 0…65535: `depth` says which.
 */
export interface Frame extends PixelSize {
  readonly channels: 1 | 3;
  readonly depth: 8 | 16;
  readonly samples: Uint8Array | Uint16Array;
  /** sample = light^(1/gamma), where the file says so itself; left out, the camera's */
  readonly gamma?: number;
  /** exposure time, s, where the file states it */
  readonly exposure?: number;
  /** sensitivity that was set, ISO number, where the file states it */
  readonly sensitivity?: number;
  /** f-number of the lens, where the file states it */
  readonly aperture?: number;
  /** steps in which the light was counted, in samples, where the file's own are finer */
  readonly step?: number;
}

/** What takes the picture; the setup's camera group is this. */
export interface CameraInput {
  /** pixel pitch, m */
  readonly pixel: number;
  readonly columns: number;
  readonly rows: number;
  /** exposure time, s */
  readonly exposure: number;
  /** electrons per pixel and second in the middle of the cold line, 1/s */
  readonly rate: number;
  /** full well, electrons */
  readonly fullWell: number;
  /** read noise, electrons r.m.s. */
  readonly readNoise: number;
  /** offset of the dark picture, share of full scale */
  readonly blackLevel: number;
  /** 8 or 16 */
  readonly bitDepth: 8 | 16;
  /** 1 = linear; sample = light^(1/gamma) */
  readonly gamma: number;
  /** seed of the noise, integer ≥ 0 */
  readonly seed: number;
  /** filters, converter and leaks; default: none of them, every wavelength counted alike */
  readonly sensor?: SensorTraits;
  /** where an audience would see the same light */
  readonly screen?: ScreenInput;
}

/** What a sensor does to light beside counting it. */
export interface SensorTraits {
  /** "bayer": red, green / green, blue from the upper left corner */
  readonly filter: "none" | "bayer";
  /** a filter that blocks the near infrared stands before the sensor */
  readonly infraredFilter: boolean;
  /** rows of vacuum wavelength, m, ascending, and response 0…1: one, or red, green and blue; nothing outside */
  readonly response?: Table;
  /** bits of the converter; undefined: as fine as the file */
  readonly converterBits?: number;
  /** electrons per pixel and second without light */
  readonly darkCurrent: number;
  /** share of pixels that leak, and their mean leak, electrons per second */
  readonly hotPixels: number;
  readonly hotCurrent: number;
  /** seed of the sensor's own pattern, the same in all its pictures */
  readonly chip: number;
}

/** A screen that shows what the sensor would see, enlarged to its width. */
export interface ScreenInput {
  /** m */
  readonly width: number;
  /** from the screen to the eyes, m */
  readonly distance: number;
  /** share of the light scattered back, evenly in all directions (Lambert), 1 */
  readonly reflectance: number;
}
