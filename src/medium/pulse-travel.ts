/** Where a pulse is while it is inside: its intensity over retarded time at evenly spaced depths of a medium. */
import { SPEED_OF_LIGHT } from "../reference/index.ts";
import { carryPulse, enteringPulse, intensityOf, type PulseInput, type PulseReport } from "./pulse.ts";
import { answerOf, prepare, propagate, transferFunction } from "./pulse-propagation.ts";

export interface PulseTravel {
  /** of the whole length: its time steps and window, refined as `carryPulse` does, are those of every depth */
  readonly report: PulseReport;
  /** m, of the whole medium */
  readonly length: number;
  /** number of steps in depth; depth k is k·length/steps, k = 0…steps */
  readonly steps: number;
  /** retarded time t − z/c, s, evenly spaced */
  readonly time: Float64Array;
  /** (steps + 1) × time, depth by depth; relative to the incident peak */
  readonly intensity: Float64Array;
}

/**
 * Carries a pulse through a medium and stops at each depth. The index is asked once; every depth is a transform of its own,
 * with dispersion and absorption of all colours of the pulse.
 *
 * @param from first retarded time that is kept, s
 * @param to last one, s
 * @param kept most times that are kept, evenly thinned
 * @throws Refusal as `carryPulse` does
 */
export function travelPulse(
  input: PulseInput,
  steps: number,
  from: number,
  to: number,
  kept: number,
): PulseTravel {
  const report = carryPulse(input);
  const points = report.time.length;
  const window = points * (report.time[1] - report.time[0]);
  const { time, amplitude } = enteringPulse(input, points, window);
  const entering = prepare(amplitude);
  const answer = answerOf(input.medium, input.carrier, points, window);
  const index = (t: number, none: number): number => {
    const found = time.findIndex((each) => each >= t);
    return found < 0 ? none : found;
  };
  const end = index(to, points);
  const earliest = index(from, 0);
  const every = Math.max(1, Math.ceil((end - earliest) / kept));
  // The front itself, τ = 0, is one of the kept times.
  const first = earliest + ((((points / 4 - earliest) % every) + every) % every);
  const width = Math.ceil((end - first) / every);
  const intensity = new Float64Array((steps + 1) * width);
  for (let k = 0; k <= steps; k++) {
    const depth = (k * input.length) / steps;
    const whole =
      k === 0
        ? amplitude.map((e) => e * e)
        : intensityOf(propagate(entering, transferFunction(answer, depth), window));
    for (let j = 0; j < width; j++) intensity[k * width + j] = whole[first + j * every];
  }
  return {
    report,
    length: input.length,
    steps,
    time: Float64Array.from({ length: width }, (_, j) => time[first + j * every]),
    intensity,
  };
}

/** What of a travel a snapshot needs. */
export type Travelled = Pick<PulseTravel, "length" | "steps" | "time" | "intensity">;

/**
 * Intensity at a place and a moment, straight between the depths and times; 0 where the window knows nothing.
 *
 * @param z m from the entrance; before it and after the exit is vacuum
 * @param t s since a front at c stood at the entrance
 */
export function pulseAt({ length, steps, time, intensity }: Travelled, z: number, t: number): number {
  const late = (t - z / SPEED_OF_LIGHT - time[0]) / (time[1] - time[0]);
  const j = Math.floor(late);
  if (!(j >= 0 && j < time.length - 1)) return 0;
  // Ahead of the front the earlier value stands: drawn straight, the front's jump would reach before it.
  const share = time[j + 1] < 0.5 * (time[1] - time[0]) ? 0 : late - j;
  const depth = Math.min(1, Math.max(0, z / length)) * steps;
  const k = Math.min(steps - 1, Math.floor(depth));
  const at = (row: number): number => {
    const i = row * time.length + j;
    return intensity[i] + share * (intensity[i + 1] - intensity[i]);
  };
  return at(k) + (depth - k) * (at(k + 1) - at(k));
}
