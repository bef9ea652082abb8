/** The column model of the quick reading: how much light stands in each column of the spectrum, and how high. */
import { type CurveParameters, type CurveSetting, type CurveWorkspace, fillCurve } from "./curve-model.ts";

/** The picture boiled down along its columns; index k stands for U = k + ½ − columns/2. */
export interface ColumnMoments {
  /** summed light above background, full scale · pixels */
  readonly light: Float64Array;
  /** centre of the light, pixels above the frame's middle; 0 where there is none */
  readonly height: Float64Array;
}

/** Plumb slit's image (a box) blurred by a Gaussian, as weights on whole pixels; odd length, sum 1. */
export function columnKernel(slitWidth: number, sigma: number): Float64Array {
  const reach = Math.ceil(slitWidth / 2 + 3 * sigma + 1);
  const kernel = new Float64Array(2 * reach + 1);
  const steps = 9;
  let sum = 0;
  for (let k = -reach; k <= reach; k++) {
    let value = 0;
    // The box with the pixel's own width folded in by sampling both.
    for (let i = 0; i < steps; i++) {
      for (let j = 0; j < steps; j++) {
        const at = k + ((i + 0.5) / steps - 0.5) + ((j + 0.5) / steps - 0.5) * slitWidth;
        value += Math.exp(-0.5 * (at / sigma) ** 2);
      }
    }
    kernel[k + reach] = value;
    sum += value;
  }
  for (let k = 0; k < kernel.length; k++) kernel[k] /= sum;
  return kernel;
}

/** Room for one evaluation; made once per setting. */
export interface MomentScratch {
  readonly sharpLight: Float64Array;
  readonly sharpMoment: Float64Array;
  readonly kernel: Float64Array;
}

export function momentScratch(columns: number, kernel: Float64Array): MomentScratch {
  return {
    kernel,
    sharpLight: new Float64Array(columns),
    sharpMoment: new Float64Array(columns),
  };
}

/**
 * Light and height of every column for a set of parameters: each cell of the curve laid on its columns, then the
 * slit's image over it. Exact for sums and centres of light as long as the spectral lines stand upright.
 * @param levelWidth full height of the undeflected line, pixels: the spectrum is light per row of it
 */
export function fillMoments(
  setting: CurveSetting,
  parameters: CurveParameters,
  work: CurveWorkspace,
  levelWidth: number,
  scratch: MomentScratch,
  out: ColumnMoments,
): void {
  fillCurve(setting, parameters, work);
  const { nodes, weights, place, light } = work.curve;
  const { sharpLight, sharpMoment, kernel } = scratch;
  const columns = sharpLight.length;
  sharpLight.fill(0);
  sharpMoment.fill(0);
  const n = nodes.length;
  for (let j = 0; j < weights.length; j++) {
    const base = j * n;
    for (let i = 0; i + 1 < n; i++) {
      const from = nodes[i] + columns / 2;
      const to = nodes[i + 1] + columns / 2;
      const first = Math.max(0, Math.floor(from));
      const last = Math.min(columns - 1, Math.ceil(to) - 1);
      const middle = 0.5 * (light[base + i] + light[base + i + 1]) * weights[j] * levelWidth;
      const height = 0.5 * (place[base + i] + place[base + i + 1]);
      for (let c = first; c <= last; c++) {
        const share = (Math.min(to, c + 1) - Math.max(from, c)) * middle;
        sharpLight[c] += share;
        sharpMoment[c] += share * height;
      }
    }
  }
  const reach = (kernel.length - 1) / 2;
  for (let c = 0; c < columns; c++) {
    let sum = 0;
    let moment = 0;
    for (let k = -reach; k <= reach; k++) {
      const at = Math.min(Math.max(c + k, 0), columns - 1);
      sum += kernel[k + reach] * sharpLight[at];
      moment += kernel[k + reach] * sharpMoment[at];
    }
    out.light[c] = sum;
    out.height[c] = sum > 0 ? moment / sum : 0;
  }
}
