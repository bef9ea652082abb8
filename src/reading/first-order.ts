/** What a small change of the light, or of the model, does to the answers: one Gauss–Newton step. */
import type { FittedPicture } from "./fit-picture.ts";
import { curveWorkspace } from "./curve-model.ts";
import { renderValues } from "./pixel-fit.ts";
import { modelScratch } from "./pixel-model.ts";
import { storeLight } from "./stored-light.ts";

export interface Response {
  /** m⁻³ */
  readonly columnGradient: number;
  /** m⁻² */
  readonly columnDensity: number;
}

/** What a gamma greater by `change` does. */
export function gammaResponse(fitted: FittedPicture, change: number): Response {
  const { fit, pixels, hot, gamma } = fitted;
  // light = sample^gamma, so d light/d gamma = light·ln(sample) = light·ln(light)/gamma
  const moved = Float64Array.from(pixels, (at, i) => {
    const light = Math.max(hot.light[at], 1e-9);
    return ((light * Math.log(light)) / gamma / fit.sigma[i]) * change;
  });
  return responseTo(fitted, moved);
}

/** What a noise of the dark `times` as large does, where counts are coarser than it. */
export function darkNoiseResponse(fitted: FittedPicture, times: number): Response {
  const { fit, stored, undeflected, hot, pixels, setting, slitWidth } = fitted;
  const scratch = modelScratch(hot.columns, hot.rows);
  renderValues(setting, fit.values, slitWidth, curveWorkspace(setting), scratch, hot);
  const { background } = fit.values;
  const light = Float64Array.from(pixels, (at) => scratch.image[at] + background);
  const as = (dark: number): Float64Array => {
    const kept = light.slice();
    storeLight(kept, background, undeflected.noise.perLight, { ...stored, dark });
    return kept;
  };
  const here = as(stored.dark);
  return responseTo(
    fitted,
    as(times * stored.dark).map((v, i) => (v - here[i]) / fit.sigma[i]),
  );
}

/** @param moved change of every pixel's light, or of the model's with the other sign, over the pixel's σ */
function responseTo({ fit, terms }: FittedPicture, moved: Float64Array): Response {
  const n = terms.length;
  const m = fit.solution.jacobian.length / n;
  const { jacobian, covariance } = fit.solution;
  const pull = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let sum = 0;
    for (let i = 0; i < moved.length; i++) sum += jacobian[k * m + i] * moved[i];
    pull[k] = sum;
  }
  const response = (name: string): number => {
    const k = terms.findIndex((term) => term.name === name);
    let sum = 0;
    for (let j = 0; j < n; j++) sum += covariance[j * n + k] * pull[j];
    return sum;
  };
  return { columnGradient: response("column gradient"), columnDensity: response("column density") };
}
