/** Signal and noise along the curve, column by column: what a picture of this exposure can tell. */
import { pow } from "../numerics/elementary/index.ts";
import type { CameraInput } from "./api.ts";

/** One value per column. */
export interface Signal {
  /** row of the brightest pixel, from the top, pixels */
  readonly row: Float64Array;
  /** electrons in the brightest pixel, leaks aside, cut at the full well */
  readonly electrons: Float64Array;
  /** standard deviation of that pixel: shot, dark and read noise, and the converter's or the file's steps, electrons */
  readonly noise: Float64Array;
  /** electrons over noise, 1 */
  readonly signalToNoise: Float64Array;
  /** how well that column alone tells the height of the light: standard deviation of its centroid, pixels; Infinity without light */
  readonly heightError: Float64Array;
}

/** A step of the converter has the variance of an even distribution, 1/12 of its square. */
const EVEN = 1 / 12;

/**
 * @param light relative light before the camera, rows × columns; colour filters are not taken into account
 * @param camera one whose rate is absolute, or stated
 */
export function signalAlong(light: Float32Array, camera: CameraInput): Signal {
  const { columns, rows, fullWell, readNoise } = camera;
  const perLight = camera.rate * camera.exposure;
  const dark = (camera.sensor?.darkCurrent ?? 0) * camera.exposure;
  const bits = camera.sensor?.converterBits ?? camera.bitDepth;
  const step = fullWell / (pow(2, bits) - 1);
  const still = readNoise * readNoise + dark + EVEN * step * step;
  const make = (): Float64Array => new Float64Array(columns);
  const out = { row: make(), electrons: make(), noise: make(), signalToNoise: make(), heightError: make() };
  for (let c = 0; c < columns; c++) {
    let best = 0;
    let sum = 0;
    let moment = 0;
    for (let r = 0; r < rows; r++) {
      const n = Math.min(fullWell, light[r * columns + c] * perLight);
      if (n > Math.min(fullWell, light[best * columns + c] * perLight)) best = r;
      sum += n;
      moment += n * (r + 0.5);
    }
    const most = Math.min(fullWell, light[best * columns + c] * perLight);
    const noise = Math.sqrt(most + still);
    out.row[c] = best + 0.5;
    out.electrons[c] = most;
    out.noise[c] = noise;
    out.signalToNoise[c] = most / noise;
    out.heightError[c] = centroidError(light, { ...camera, perLight, still }, c, sum, moment);
  }
  return out;
}

/** Error of Σn·r/Σn with var n = n + still, over the rows that hold light of the column (above a thousandth of its brightest). */
function centroidError(
  light: Float32Array,
  given: { columns: number; rows: number; fullWell: number; perLight: number; still: number },
  c: number,
  sum: number,
  moment: number,
): number {
  if (!(sum > 0)) return Infinity;
  const { columns, rows, fullWell, perLight, still } = given;
  const middle = moment / sum;
  let brightest = 0;
  for (let r = 0; r < rows; r++) brightest = Math.max(brightest, light[r * columns + c]);
  let variance = 0;
  for (let r = 0; r < rows; r++) {
    const value = light[r * columns + c];
    if (value < LEAST * brightest) continue;
    const n = Math.min(fullWell, value * perLight);
    variance += (n + still) * pow(r + 0.5 - middle, 2);
  }
  return Math.sqrt(variance) / sum;
}

const LEAST = 1e-3;
