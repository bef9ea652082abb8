/**
 * A light pulse with a sharp front, carried through a length of medium by Fourier transform.
 *
 * The envelope E(τ) of a carrier ω₀ is followed in retarded time τ = t − L/c: what a front at the speed of light does in
 * vacuum happens at τ = 0. Each frequency is multiplied by H(Ω) = exp(i(n − 1)(ω₀ + Ω)L/c − αL/2); time factor e^(−iΩτ).
 *
 * Three things could fake light ahead of the front, and each is dealt with and measured:
 * - A sharp front holds all frequencies, a computer only ±π/dt. H falls off as H∞(1 + iA/Ω): this slowest part is taken out
 *   and carried in the time domain, where it is a causal exponential; what is left falls off as 1/Ω² and faster.
 * - The transform is periodic: light later than the window would come in at its beginning. The first quarter of the window
 *   lies before the front, and the energy found there and at the end is reported.
 * - dt and window are refined until both are below a stated share, or the report says that they are not.
 */
import { exp, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import { SPEED_OF_LIGHT } from "../reference/index.ts";
import type { Medium } from "./medium.ts";
import { answerOf, prepare, propagate, transferFunction } from "./pulse-propagation.ts";

export interface PulseInput {
  readonly medium: Medium;
  /** m, > 0 */
  readonly length: number;
  /** vacuum wavelength of the carrier, m */
  readonly carrier: number;
  /**
   * "block": full light from the front on, for `duration`; "cut-gauss": a Gaussian of FWHM (intensity) `duration`, cut off
   * one `duration` before its middle, where a front of 1/16 of the peak intensity stands
   */
  readonly shape: "block" | "cut-gauss";
  /** s, > 0 */
  readonly duration: number;
  /** points of the window, a power of two, 1024 to 2^20; default: refined up to 2^18 */
  readonly points?: number;
  /** length of the window in durations, ≥ 8; default: refined */
  readonly windowDurations?: number;
}

/** Where a pulse is, s. */
export interface PulseMarks {
  /** first point at which the intensity exceeds 10⁻⁴ of the incident peak */
  readonly front: number;
  /** centre of energy */
  readonly centre: number;
  /** highest intensity, by a parabola through three points */
  readonly peak: number;
}

export interface PulseReport {
  /** retarded time, s, evenly spaced; 0 is where a front at c in vacuum would be */
  readonly time: Float64Array;
  /** intensity relative to the incident peak */
  readonly incident: Float64Array;
  readonly transmitted: Float64Array;
  /** marks of the incident pulse (the same pulse after L of vacuum) and of the transmitted one */
  readonly before: PulseMarks;
  readonly after: PulseMarks;
  /** transmitted energy over incident energy */
  readonly energy: number;
  /** group delay at the carrier over vacuum, (n_g − 1)L/c, s: where the centre would be without distortion */
  readonly groupDelay: number;
  /** share of the transmitted energy at τ < 0: zero in truth, here the measure of what the transform adds */
  readonly aheadOfFront: number;
  /** share of the transmitted energy in the last sixteenth of the window: what may come round to its beginning */
  readonly lateShare: number;
  /** full sentences that belong to the figure */
  readonly statements: readonly string[];
}

const SMALLEST = 1024;
const LARGEST = 2 ** 20;
/** Refinement stops here unless the caller names a size. */
const USUAL_LARGEST = 2 ** 18;
/** Share of energy that may stand ahead of the front or at the end of the window before the report warns. */
const TOLERATED = 1e-6;
/** A mark is set where the intensity first exceeds this share of the incident peak. */
const FRONT_LEVEL = 1e-4;

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "pulse", field, received, expected });
}

function check({ length, carrier, duration, points, windowDurations }: PulseInput): void {
  if (!(length > 0 && length < Infinity)) refuse("pulse.length", String(length), "a length above 0 m");
  if (!(carrier > 0 && carrier < Infinity))
    refuse("pulse.carrier", String(carrier), "a wavelength above 0 m");
  if (!(duration > 0 && duration < Infinity)) refuse("pulse.duration", String(duration), "a time above 0 s");
  if (
    points !== undefined &&
    !(points >= SMALLEST && points <= LARGEST && Number.isInteger(points) && (points & (points - 1)) === 0)
  ) {
    refuse("pulse.points", String(points), "a power of two from 1024 to 1048576");
  }
  if (windowDurations !== undefined && !(windowDurations >= 8 && windowDurations <= 1e5)) {
    refuse("pulse.windowDurations", String(windowDurations), "a window of 8 to 100000 durations");
  }
}

/**
 * Carries a pulse through a medium and says where its front, its centre and its peak are. However fast the peak, nothing
 * comes before τ = 0: the report holds the share of energy found there.
 *
 * @throws Refusal sizes out of range; a bandwidth that leaves the medium's range of wavelengths (a shorter pulse or more
 *   points need more of it)
 */
export function carryPulse(input: PulseInput): PulseReport {
  check(input);
  if (input.points !== undefined && input.windowDurations !== undefined) {
    return carryOnce(input, input.points, input.windowDurations);
  }
  let points = input.points ?? 2 ** 13;
  let window = input.windowDurations ?? 16;
  let report = carryOnce(input, points, window);
  for (;;) {
    const longer = input.windowDurations === undefined && report.lateShare > TOLERATED;
    const early = report.aheadOfFront > TOLERATED || report.after.front < 0;
    const finer = input.points === undefined && (longer || early);
    if (longer) window *= 2;
    if (finer) points *= 2;
    if (points > USUAL_LARGEST || !(longer || finer)) return report;
    const next = refined(input, points, window);
    if (next === undefined) return report;
    report = next;
  }
}

/** A finer step may ask for colours that the medium cannot answer: then the coarser report stands, with its remarks. */
function refined(input: PulseInput, points: number, window: number): PulseReport | undefined {
  try {
    return carryOnce(input, points, window);
  } catch (thrown) {
    if (thrown instanceof Refusal) return undefined;
    throw thrown;
  }
}

/** Amplitude of the incident envelope at retarded time t; at the front itself half of the jump, as Fourier series do. */
function envelope(shape: PulseInput["shape"], duration: number, t: number, dt: number): number {
  const edge = (x: number): number => (Math.abs(x) < 0.25 * dt ? 0.5 : x > 0 ? 1 : 0);
  if (shape === "block") return edge(t) * edge(duration - t);
  return edge(t) * exp(-2 * Math.LN2 * pow(t / duration - 1, 2));
}

/** An envelope that is about to enter, over the steps of its window. */
export interface Entering {
  readonly time: Float64Array;
  readonly amplitude: Float64Array;
}

/** The first quarter of the window lies before the front. */
export function enteringPulse(
  { shape, duration }: Pick<PulseInput, "shape" | "duration">,
  points: number,
  window: number,
): Entering {
  const dt = window / points;
  const first = points / 4;
  const time = Float64Array.from({ length: points }, (_, j) => (j - first) * dt);
  return { time, amplitude: time.map((t) => envelope(shape, duration, t, dt)) };
}

/** Intensity of an envelope, interleaved re, im. */
export function intensityOf(leaving: Float64Array): Float64Array {
  return Float64Array.from(
    { length: leaving.length / 2 },
    (_, j) => pow(leaving[2 * j], 2) + pow(leaving[2 * j + 1], 2),
  );
}

function carryOnce(input: PulseInput, points: number, windowDurations: number): PulseReport {
  const { medium, length, carrier, duration } = input;
  const window = windowDurations * duration;
  const first = points / 4;
  const { time, amplitude } = enteringPulse(input, points, window);
  const response = transferFunction(answerOf(medium, carrier, points, window), length);
  const incident = amplitude.map((e) => e * e);
  const transmitted = intensityOf(propagate(prepare(amplitude), response, window));
  const sum = (values: Float64Array, from: number, to: number): number => {
    let total = 0;
    for (let j = from; j < to; j++) total += values[j];
    return total;
  };
  const energy = sum(transmitted, 0, points);
  const aheadOfFront = energy === 0 ? 0 : sum(transmitted, 0, first) / energy;
  const lateShare = energy === 0 ? 0 : sum(transmitted, points - points / 16, points) / energy;
  const group = medium.indexAt(Float64Array.of(carrier));
  return {
    time,
    incident,
    transmitted,
    before: marks(time, incident, incident),
    after: marks(time, transmitted, incident),
    energy: energy / sum(incident, 0, points),
    groupDelay: ((group.groupIndex[0] - 1) * length) / SPEED_OF_LIGHT,
    aheadOfFront,
    lateShare,
    statements: statementsOf(group.groupIndex[0], group.phaseVelocity[0], aheadOfFront, lateShare),
  };
}

function statementsOf(groupIndex: number, phase: number, ahead: number, late: number): string[] {
  const statements: string[] = [];
  if (phase > 1) statements.push("The phase runs faster than light in vacuum here; the front does not.");
  if (groupIndex < 1)
    statements.push(
      "The group velocity is beyond c or negative here: it moves the peak within the pulse, not its front.",
    );
  statements.push(
    ahead <= TOLERATED
      ? `No light comes before the front at c: the share of energy computed there is ${ahead.toExponential(0)}.`
      : `A share of ${ahead.toExponential(0)} of the energy is computed ahead of the front: the steps in time are too coarse for this medium.`,
  );
  if (late > TOLERATED) {
    statements.push(
      `A share of ${late.toExponential(0)} of the energy still comes at the end of the window: the window is too short.`,
    );
  }
  return statements;
}

function marks(time: Float64Array, intensity: Float64Array, incident: Float64Array): PulseMarks {
  const level = FRONT_LEVEL * incident.reduce((most, value) => Math.max(most, value), 0);
  let front = 0;
  while (front < time.length - 1 && intensity[front] <= level) front++;
  let top = 0;
  let total = 0;
  let moment = 0;
  for (let j = 0; j < time.length; j++) {
    if (intensity[j] > intensity[top]) top = j;
    total += intensity[j];
    moment += intensity[j] * time[j];
  }
  return {
    front: time[front],
    centre: moment / total,
    peak: time[top] + vertex(intensity, top) * (time[1] - time[0]),
  };
}

/** Offset of a parabola's vertex from the middle of three points, in points; 0 at the ends and on a plateau. */
function vertex(values: Float64Array, i: number): number {
  if (i === 0 || i === values.length - 1) return 0;
  const bend = values[i - 1] - 2 * values[i] + values[i + 1];
  return bend >= 0 ? 0 : Math.max(-0.5, Math.min(0.5, (values[i - 1] - values[i + 1]) / (2 * bend)));
}
