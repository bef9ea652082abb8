/** From light to the numbers of a file: electrons, shot and read noise, full well, black level, gamma, bits. */
import { pow } from "../numerics/elementary/index.ts";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { Refusal } from "../quantity/refusal.ts";
import type { CameraInput, Frame } from "./api.ts";
import { normalQuantiles } from "./normal-table.ts";

/** Mean count above which Poisson's law is drawn from the normal one with its skewness put back. */
const MANY = 16;
/** 1/2³², from the low end of random integers to [0, 1). */
const TO_UNIT = 2 ** -32;
/** Steps of the gamma table over √light. */
const GAMMA_STEPS = 4096;

/**
 * Picture as the camera stores it.
 *
 * Electrons: mean = light · rate · exposure; Poisson by inversion up to 16, above it the nearest integer to μ + z√μ + (z² − 1)/6 (Cornish–Fisher to first
 * order: variance within 1e-4 of Poisson's), cut at the full well; read noise is normal. No deviate beyond 4.33 standard deviations.
 * Sample = (blackLevel + (1 − blackLevel) · electrons/fullWell)^(1/gamma) of full scale, rounded.
 * One seed, one picture: only +, ·, /, √ and integer arithmetic touch a pixel, so the same light gives the same bytes on every machine.
 * @param light relative light, rows × columns, row-major, ≥ 0
 * @param camera sizes must match `light`; seed replaces camera.seed where given
 */
export function expose(light: Float32Array, camera: CameraInput, seed: number = camera.seed): Frame {
  const { columns, rows, bitDepth } = camera;
  const count = columns * rows;
  if (light.length !== count)
    throw new Error(`expose: ${light.length} samples of light for ${columns} × ${rows} pixels`);
  check(camera, seed);
  const samples = bitDepth === 8 ? new Uint8Array(count) : new Uint16Array(count);
  const quantiles = normalQuantiles();
  const { fullWell, readNoise, blackLevel } = camera;
  const electrons = camera.rate * camera.exposure;
  const top = bitDepth === 8 ? 255 : 65535;
  const perElectron = (1 - blackLevel) / fullWell;
  const curve = camera.gamma === 1 ? null : gammaCurve(camera.gamma, top);
  // The generator's four words are kept in locals: stepping it through its object costs more than all the rest of a pixel.
  let [s01, s00, s11, s10] = xoroshiro128plus(seed).getState() as [number, number, number, number];
  let lastMean = -1;
  let none = 1;
  let root = 0;
  for (let p = 0; p < count; p++) {
    const mean = light[p] * electrons;
    const bits = (s00 + s10) | 0;
    const a0 = s10 ^ s00;
    const a1 = s11 ^ s01;
    const b0 = s00;
    const b1 = s01;
    s00 = (b0 << 24) ^ (b1 >>> 8) ^ a0 ^ (a0 << 16);
    s01 = (b1 << 24) ^ (b0 >>> 8) ^ a1 ^ ((a1 << 16) | (a0 >>> 16));
    s10 = (a1 << 5) ^ (a0 >>> 27);
    s11 = (a0 << 5) ^ (a1 >>> 27);
    if (mean !== lastMean) {
      lastMean = mean;
      if (mean < MANY) none = expNegative(mean);
      else root = Math.sqrt(mean);
    }
    let caught: number;
    if (mean < MANY) caught = poisson(mean, none, bits >>> 0);
    else {
      const z = quantiles[bits >>> 16];
      caught = Math.floor(mean + z * root + (z * z - 1) / 6 + 0.5);
    }
    if (caught > fullWell) caught = fullWell;
    // Few electrons take all 32 bits; a fresh mix of the next state serves their read noise.
    const readBits = mean < MANY ? Math.imul(s00 ^ s11, 0x9e3779b1) >>> 16 : bits & 0xffff;
    const level = blackLevel + (caught + readNoise * quantiles[readBits]) * perElectron;
    const share = Math.min(1, Math.max(0, level));
    if (curve === null) samples[p] = share * top + 0.5;
    else {
      const at = Math.sqrt(share) * GAMMA_STEPS;
      const i = at | 0;
      samples[p] = curve[i] + (curve[i + 1] - curve[i]) * (at - i) + 0.5;
    }
  }
  return { columns, rows, channels: 1, depth: bitDepth, samples };
}

/** Count by inversion of Poisson's law: smallest k whose cumulated probability exceeds bits/2³². */
function poisson(mean: number, none: number, bits: number): number {
  const u = bits * TO_UNIT;
  let k = 0;
  let p = none;
  let sum = p;
  while (u >= sum && k < 200) {
    k++;
    p *= mean / k;
    sum += p;
  }
  return k;
}

/** exp(−x) for 0 ≤ x < 16 from products and sums alone: e^(−whole) by repeated products, the rest by Taylor's series to 1e-16. */
function expNegative(x: number): number {
  const whole = Math.floor(x);
  const rest = x - whole;
  let series = 1;
  for (let k = 18; k > 0; k--) series = 1 - (rest / k) * series;
  for (let k = 0; k < whole; k++) series *= INVERSE_E;
  return series;
}

const INVERSE_E = 0.36787944117144233;

/** top · s^(2/γ) over s = √light in equal steps: nearly straight for gammas about 2, so that straight lines between do. */
function gammaCurve(gamma: number, top: number): Float64Array {
  const curve = new Float64Array(GAMMA_STEPS + 2);
  for (let i = 0; i < curve.length; i++) curve[i] = top * pow(Math.min(1, i / GAMMA_STEPS), 2 / gamma);
  return curve;
}

function check(camera: CameraInput, seed: number): void {
  const wrong = (field: string, received: number, expected: string): never => {
    throw new Refusal({
      code: "camera-impossible",
      field: `camera.${field}`,
      received: String(received),
      expected,
    });
  };
  if (!(camera.rate >= 0)) wrong("rate", camera.rate, "electrons per second, 0 or more");
  if (!(camera.exposure > 0)) wrong("exposure", camera.exposure, "a time above 0 s");
  if (!(camera.fullWell > 0)) wrong("fullWell", camera.fullWell, "a number of electrons above 0");
  if (!(camera.readNoise >= 0)) wrong("readNoise", camera.readNoise, "electrons r.m.s., 0 or more");
  if (!(camera.blackLevel >= 0 && camera.blackLevel < 1))
    wrong("blackLevel", camera.blackLevel, "a share from 0 to below 1");
  if (!(camera.gamma > 0)) wrong("gamma", camera.gamma, "a number above 0");
  if (!(Number.isInteger(seed) && seed >= 0)) wrong("seed", seed, "a whole number, 0 or more");
}
