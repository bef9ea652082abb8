/** The dark parts of a picture: level and noise, found without knowing where the light is. */
import type { Frame } from "../picture/api.ts";
import { type LightFrame, lightOf } from "./frame-light.ts";

export interface Background {
  /** share of full scale */
  readonly level: number;
  /** standard deviation of one pixel */
  readonly noise: number;
  /** middle value, which a cut at zero does not move */
  readonly median: number;
  /** distance from the median to the 84th percentile: the standard deviation as it was before a cut at zero */
  readonly upperSpread: number;
  /** true where all pixels hold the same light */
  readonly even: boolean;
  /** share of the pixels that stand more than 5 σ above the level */
  readonly litShare: number;
}

/**
 * Level and noise of the darker majority by repeated clipping about the median. The mean of what remains is the level:
 * a median would be biased where an 8-bit file has cut the noise off at zero.
 */
export function backgroundOf(frame: LightFrame): Background {
  const { light } = frame;
  const stride = Math.max(1, Math.floor(light.length / 60_000)) | 1;
  const sample = new Float64Array(Math.ceil(light.length / stride));
  for (let i = 0, at = 0; i < light.length; i += stride) sample[at++] = light[i];
  sample.sort();
  let from = 0;
  let to = sample.length;
  let level = sample[to >> 1];
  let noise = 0;
  for (let pass = 0; pass < 8; pass++) {
    let sum = 0;
    for (let i = from; i < to; i++) sum += sample[i];
    level = sum / (to - from);
    let square = 0;
    for (let i = from; i < to; i++) square += (sample[i] - level) ** 2;
    noise = Math.sqrt(square / (to - from));
    const median = sample[(from + to) >> 1];
    // Quartile distance first: the spread of the bulk, not of the lit pixels.
    const bulk =
      (sample[from + Math.floor(0.75 * (to - from))] - sample[from + Math.floor(0.25 * (to - from))]) / 1.349;
    const spread = pass === 0 ? bulk : Math.min(noise, Math.max(bulk, noise / 3));
    const high = median + 4 * Math.max(spread, 1e-9);
    const low = median - 4 * Math.max(spread, 1e-9);
    while (to > from + 2 && sample[to - 1] > high) to--;
    while (from < to - 2 && sample[from] < low) from++;
  }
  let lit = 0;
  for (let i = 0; i < sample.length; i++) if (sample[i] > level + 5 * noise + 1e-9) lit++;
  const at = (share: number): number => sample[Math.min(to - 1, from + Math.floor(share * (to - from)))];
  return {
    level,
    // Dark pixels that all hold the same count are not without noise: within a count nothing is known (its square over 12).
    noise: Math.max(noise, frame.count / Math.sqrt(12)),
    median: at(0.5),
    even: noise < 1e-6 && sample[sample.length - 1] - sample[0] < 1e-6,
    upperSpread: at(0.8413) - at(0.5),
    litShare: lit / sample.length,
  };
}

/** A frame's light and what is dark of it, worked out once for all who look at the same frame. */
export interface SeenFrame {
  readonly light: LightFrame;
  readonly background: Background;
}

/**
 * @param gamma sample = light^(1/gamma)
 * @throws Refusal for empty, tiny, huge or truncated frames
 */
export function lookAt(frame: Frame, gamma: number, dark?: Frame): SeenFrame {
  const light = lightOf(frame, gamma, "frame", dark);
  return { light, background: backgroundOf(light) };
}
