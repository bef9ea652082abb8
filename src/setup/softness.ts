import { focusBlur, type SpectralMap } from "../path/index.ts";
import type { Softness } from "../picture/index.ts";
import type { Setup } from "./api.ts";

/** Blur below which a colour counts as sharp, pixels: it widens a line by less than a hundredth of a pixel's own width. */
const SEEN = 0.25;

/** Blur of the colours on each column of the sensor, pixels; undefined where every colour in view is sharp. */
export function softnessOf({ path, camera }: Setup, map: SpectralMap): Softness | undefined {
  const { columns, pixel } = camera;
  if (path.lens === undefined) return undefined;
  const { left, right } = map.reach;
  const wavelengths = Float64Array.from({ length: columns }, (_, c) =>
    map.wavelengthAt(Math.min(right, Math.max(left, (c + 0.5 - columns / 2) * pixel))),
  );
  const blur = focusBlur(path, wavelengths, SEEN * pixel);
  if (blur === undefined) return undefined;
  const inPixels = (values: Float64Array): Float32Array =>
    Float32Array.from(values, (value) => value / pixel);
  return { height: inPixels(blur.height), width: inPixels(blur.width) };
}
