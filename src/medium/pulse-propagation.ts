/**
 * The numerical heart of `pulse.ts`: what a length of medium does to each frequency of an envelope, and the envelope after it.
 * Time factor e^(−iΩτ), τ = t − L/c.
 */
import { cos, exp, expm1, sin } from "../numerics/elementary/index.ts";
import FFT from "fft.js";
import { Refusal } from "../quantity/index.ts";
import { SPEED_OF_LIGHT } from "../reference/index.ts";
import type { Medium } from "./medium.ts";

export interface Transfer {
  /** H(Ω_k), interleaved re, im, in the order of the transform (Ω_k = −2πk/window) */
  readonly values: Float64Array;
  /** phase of H∞, rad */
  readonly phase: number;
  /** A of H ≈ H∞(1 + iA/Ω), rad/s */
  readonly slope: number;
}

/** What a medium does over any length, over the transform's frequencies −half … half: one more than the transform has. */
export interface Answer {
  readonly points: number;
  /** rad/s between frequencies */
  readonly step: number;
  /** of the vacuum wave number with n − 1, rad/m */
  readonly phasePerMetre: Float64Array;
  /** m⁻¹, of the intensity */
  readonly absorption: Float64Array;
}

/** Refused by the medium where the frequencies leave its range. */
export function answerOf(medium: Medium, carrier: number, points: number, window: number): Answer {
  const omega0 = (2 * Math.PI * SPEED_OF_LIGHT) / carrier;
  const half = points / 2;
  const step = (2 * Math.PI) / window;
  if (omega0 <= half * step) {
    throw new Refusal({
      code: "pulse",
      field: "pulse.duration",
      received: "less than a cycle of light per step",
      expected: "a pulse of many optical cycles, or fewer points",
    });
  }
  const wavelengths = Float64Array.from({ length: points + 1 }, (_, m) =>
    carrierShift(omega0, (m - half) * step),
  );
  const { refractivity, absorption } = medium.indexAt(wavelengths);
  const phasePerMetre = wavelengths.map((l, m) => (2 * Math.PI * refractivity[m]) / l);
  return { points, step, phasePerMetre, absorption };
}

/** H over the transform's frequencies for a length of the medium, m. */
export function transferFunction(
  { points, step, phasePerMetre, absorption }: Answer,
  length: number,
): Transfer {
  const half = points / 2;
  const phases = phasePerMetre.map((each) => each * length);
  const phase = (phases[0] + phases[points]) / 2;
  const slope = ((phases[points] - phases[0]) / 2) * half * step;
  const values = new Float64Array(2 * points);
  const put = (k: number, m: number, share: number): void => {
    const amplitude = share * exp((-absorption[m] * length) / 2);
    values[2 * k] += amplitude * cos(phases[m]);
    values[2 * k + 1] += amplitude * sin(phases[m]);
  };
  for (let k = 0; k < points; k++) {
    if (k === half) continue;
    // forward transform uses e^(−2πijk/n): its k is our Ω = −k·step
    put(k, half - (k < half ? k : k - points), 1);
  }
  // The highest frequency stands for both signs.
  put(half, 0, 0.5);
  put(half, points, 0.5);
  return { values, phase, slope };
}

const carrierShift = (omega0: number, offset: number): number =>
  (2 * Math.PI * SPEED_OF_LIGHT) / (omega0 + offset);

/** An envelope with its spectrum, ready to go through any length. */
export interface Prepared {
  readonly amplitude: Float64Array;
  readonly fft: FFT;
  /** interleaved re, im, in the order of the transform */
  readonly spectrum: Float64Array;
}

export function prepare(amplitude: Float64Array): Prepared {
  const fft = new FFT(amplitude.length);
  const spectrum = fft.createComplexArray() as number[];
  const packed = new Array<number>(2 * amplitude.length).fill(0);
  for (let j = 0; j < amplitude.length; j++) packed[2 * j] = amplitude[j];
  fft.transform(spectrum, packed);
  return { amplitude, fft, spectrum: Float64Array.from(spectrum) };
}

/** Transmitted envelope, interleaved re, im. */
export function propagate(entering: Prepared, transfer: Transfer, window: number): Float64Array {
  const { amplitude, fft } = entering;
  const points = amplitude.length;
  const dt = window / points;
  const { values, phase, slope } = transfer;
  const step = (2 * Math.PI) / window;
  const half = points / 2;
  const turnRe = cos(phase);
  const turnIm = sin(phase);
  // The part taken out: H∞(1 + iA/(Ω + iκ)) ↔ H∞(δ(τ) + A e^(−κτ) for τ > 0), κ of the size of A so that it dies in time.
  const decay = Math.abs(slope) + 16 / window;
  const spectrum = Array.from(entering.spectrum);
  for (let k = 0; k < points; k++) {
    const omega = k === half ? 0 : -(k < half ? k : k - points) * step;
    // iA/(Ω + iκ) = A(κ + iΩ)/(Ω² + κ²); at the highest frequency the two signs average its imaginary part away
    const at = k === half ? half * step : omega;
    const norm = slope / (at * at + decay * decay);
    const partRe = 1 + norm * decay;
    const partIm = norm * omega;
    const restRe = values[2 * k] - (turnRe * partRe - turnIm * partIm);
    const restIm = values[2 * k + 1] - (turnRe * partIm + turnIm * partRe);
    const re = spectrum[2 * k];
    const im = spectrum[2 * k + 1];
    spectrum[2 * k] = re * restRe - im * restIm;
    spectrum[2 * k + 1] = re * restIm + im * restRe;
  }
  const packed = fft.createComplexArray() as number[];
  fft.inverseTransform(packed, spectrum);
  const result = Float64Array.from(packed);
  // ∫ e^(−κ(τ−s)) E(s) ds by recursion, E straight between points: exact for the samples as drawn
  const keep = exp(-decay * dt);
  const x = decay * dt;
  const weightNew = (1 + expm1(-x) / x) / decay;
  const weightOld = -(expm1(-x) / x + keep) / decay;
  let memory = 0;
  for (let j = 0; j < points; j++) {
    if (j > 0) memory = keep * memory + weightOld * amplitude[j - 1] + weightNew * amplitude[j];
    const part = amplitude[j] + slope * memory;
    result[2 * j] += turnRe * part;
    result[2 * j + 1] += turnIm * part;
  }
  return result;
}
