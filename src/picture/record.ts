/** What the sensor stores of the light: colour filters, leaks and converter around the exposure. */
import { pow, sin } from "../numerics/elementary/index.ts";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { SpectralMap } from "../path/api.ts";
import type { CameraInput, Frame, SensorTraits } from "./api.ts";
import { expose } from "./expose.ts";
import { responseOf } from "./sensor-response.ts";

/** How the picture lies on the sensor. */
export interface Seen {
  readonly map: SpectralMap;
  /** roll of the picture, rad, so that colours keep to their lines */
  readonly roll: number;
}

/**
 * Picture as the camera stores it, with all its sensor does; the same as `expose` where the setup says nothing of the sensor.
 *
 * A pixel counts light · response(its own wavelength, its own filter) + dark current + its leak. The response hardly changes over the width of a slit's image,
 * so the wavelength that falls on a pixel's middle stands for all its light. With a converter of fewer bits than the file the level is rounded to its steps
 * before gamma. "bayer" stores the mosaic itself, one channel: `demosaic` makes colours of it.
 * @param light relative light, rows × columns; not changed
 */
export function record(
  light: Float32Array,
  camera: CameraInput,
  seen: Seen,
  seed: number = camera.seed,
): Frame {
  const { sensor } = camera;
  if (sensor === undefined) return expose(light, camera, seed);
  const counted = countedLight(light, camera, sensor, seen);
  const lit = camera.rate > 0 ? camera : { ...camera, rate: 1 };
  const { converterBits } = sensor;
  if (converterBits === undefined) return expose(counted, lit, seed);
  return converted(expose(counted, { ...lit, gamma: 1, bitDepth: 16 }, seed), camera, converterBits);
}

/** Relative light as the pixels count it, leaks included, in units of the camera's rate (of 1 electron per second where that is 0). */
function countedLight(
  light: Float32Array,
  camera: CameraInput,
  traits: SensorTraits,
  seen: Seen,
): Float32Array {
  const { columns, rows } = camera;
  const out = new Float32Array(light.length);
  const { factors, margin } = columnFactors(camera, traits, seen);
  const bayer = traits.filter === "bayer";
  const sine = sin(seen.roll);
  const perElectron = camera.rate > 0 ? 1 / camera.rate : 1;
  const lightShare = camera.rate > 0 ? 1 : 0;
  const dark = traits.darkCurrent * perElectron;
  for (let r = 0, p = 0; r < rows; r++) {
    const shift = margin + Math.round((rows / 2 - r - 0.5) * sine);
    // Rows of red and green alternate with rows of green and blue.
    const even = factors[bayer ? r & 1 : 0];
    const odd = factors[bayer ? (r & 1) + 1 : 0];
    for (let c = 0; c < columns; c++, p++)
      out[p] = lightShare * light[p] * ((c & 1) === 0 ? even : odd)[c + shift] + dark;
  }
  addLeaks(out, traits, perElectron);
  return out;
}

/** Response of every column and of `margin` more on either side, one array per filter; beyond the reach of the disperser that of its end. */
function columnFactors(
  { columns, rows, pixel }: CameraInput,
  traits: SensorTraits,
  { map, roll }: Seen,
): { factors: readonly Float32Array[]; margin: number } {
  const response = responseOf(traits);
  const margin = Math.ceil((Math.abs(sin(roll)) * rows) / 2) + 1;
  const count = columns + 2 * margin;
  const factors = Array.from({ length: traits.filter === "bayer" ? 3 : 1 }, () => new Float32Array(count));
  const { left, right } = map.reach;
  for (let i = 0; i < count; i++) {
    const x = (i - margin + 0.5 - columns / 2) * pixel;
    const shares = response(map.wavelengthAt(Math.min(right, Math.max(left, x))));
    for (const [f, factor] of factors.entries()) factor[i] = shares[f];
  }
  return { factors, margin };
}

/** Leaks of the chip's hot pixels, exponentially distributed about their mean. */
function addLeaks(out: Float32Array, traits: SensorTraits, perElectron: number): void {
  const count = Math.round(traits.hotPixels * out.length);
  const random = xoroshiro128plus(traits.chip);
  const uniform = (): number => (random.next() >>> 0) * 2 ** -32;
  for (let k = 0; k < count; k++) {
    const p = Math.floor(uniform() * out.length);
    out[p] += traits.hotCurrent * exponential(uniform) * perElectron;
  }
}

/**
 * Exponential deviate of mean 1 from comparisons of even deviates alone (von Neumann 1951): no logarithm whose last bit could differ between machines.
 */
function exponential(uniform: () => number): number {
  for (let whole = 0; ; whole++) {
    const first = uniform();
    let last = first;
    let run = 1;
    for (;;) {
      const next = uniform();
      if (next >= last) break;
      last = next;
      run++;
    }
    if ((run & 1) === 1) return whole + first;
  }
}

/** Rounded to the converter's steps, then to the file's gamma and depth. */
function converted(raw: Frame, { gamma, bitDepth }: CameraInput, bits: number): Frame {
  const steps = pow(2, bits) - 1;
  const top = bitDepth === 8 ? 255 : 65535;
  const table = new Uint16Array(65536);
  for (let s = 0; s < table.length; s++) {
    const level = Math.round((s / 65535) * steps) / steps;
    table[s] = Math.round(top * (gamma === 1 ? level : pow(level, 1 / gamma)));
  }
  const samples = bitDepth === 8 ? new Uint8Array(raw.samples.length) : new Uint16Array(raw.samples.length);
  for (let p = 0; p < samples.length; p++) samples[p] = table[raw.samples[p]];
  return { ...raw, depth: bitDepth, samples };
}
