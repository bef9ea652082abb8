/**
 * Loops over the pixels of a fit. They are functions of a file, not of the fit that runs them: what the engine compiles for a
 * function made within another is thrown away with it, and compiling costs a reading more than the loops do.
 */

/** Values of a frame at listed pixels. */
export function valuesAt(frame: Float64Array, pixels: Int32Array): Float64Array {
  const out = new Float64Array(pixels.length);
  for (let i = 0; i < out.length; i++) out[i] = frame[pixels[i]];
  return out;
}

/** Writes the light of listed pixels: the image's and the background. */
export function lightAt(
  image: Float64Array,
  pixels: Int32Array,
  background: number,
  out: Float64Array,
): void {
  for (let i = 0; i < pixels.length; i++) out[i] = image[pixels[i]] + background;
}

/** Standard deviation of each pixel: √(floor + perLight · light above the background), at no less than the dark's. */
export function noiseAt(
  model: Float64Array,
  background: number,
  noise: { readonly floor: number; readonly perLight: number },
  out: Float64Array,
): void {
  const { floor, perLight } = noise;
  for (let i = 0; i < out.length; i++)
    out[i] = Math.sqrt(floor + perLight * Math.max(model[i] - background, 0));
}

/** Writes (model − light)/σ; `out` may be `model` itself. */
export function residualsOf(
  model: Float64Array,
  light: Float64Array,
  sigma: Float64Array,
  out: Float64Array,
): void {
  for (let i = 0; i < sigma.length; i++) out[i] = (model[i] - light[i]) / sigma[i];
}

/** Σ ((model − light)/σ)². */
export function chiSquareOf(model: Float64Array, light: Float64Array, sigma: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < sigma.length; i++) sum += ((model[i] - light[i]) / sigma[i]) ** 2;
  return sum;
}

/** values /= by, element by element. */
export function divide(values: Float64Array, by: Float64Array): void {
  for (let i = 0; i < by.length; i++) values[i] /= by[i];
}

/** out = values · factors, element by element; without factors a copy. */
export function scaled(values: Float64Array, factors: Float64Array | null, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = factors === null ? values[i] : values[i] * factors[i];
}

/** Place of every pixel of a frame in the list, −1 where it is not listed. */
export function placesOf(pixels: Int32Array, frameSize: number): Int32Array {
  const places = new Int32Array(frameSize).fill(-1);
  for (let i = 0; i < pixels.length; i++) places[pixels[i]] = i;
  return places;
}
