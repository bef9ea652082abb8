/**
 * exp(−z²) for the thin strip along the real axis where Re w is small and must keep its own digits: 0 ≤ y < 1/128,
 * 2⅝ < |x| < 8. Sums and products alone, so that every machine gives the same bits.
 */
import { GAUSS, GAUSS_STEPS } from "./faddeeva-table.ts";

// as constants of this file: imported ones are read through a cell each time
const START: number = GAUSS;
const STEPS: number = GAUSS_STEPS;
const PER_STEP = 1 / STEPS;

/** Adds exp(−z²), z = x[k] + i·y[k], to out[at], out[at + 1]. */
export function addGaussian(
  x: Float64Array,
  y: Float64Array,
  k: number,
  table: Float64Array,
  out: Float64Array,
  at: number,
): void {
  const size = gaussianInside(Math.abs(x[k]), table) * growth(y[k]);
  const angle = 2 * x[k] * y[k];
  out[at] += size * cosine(angle);
  out[at + 1] -= size * sine(angle);
}

/** Adds the derivative −2z·exp(−z²) to out[at + 2], out[at + 3], besides what `addGaussian` does. */
export function addGaussianWithSlope(
  x: Float64Array,
  y: Float64Array,
  k: number,
  table: Float64Array,
  out: Float64Array,
  at: number,
): void {
  const size = gaussianInside(Math.abs(x[k]), table) * growth(y[k]);
  const angle = 2 * x[k] * y[k];
  const re = size * cosine(angle);
  const im = -size * sine(angle);
  out[at] += re;
  out[at + 1] += im;
  out[at + 2] -= 2 * (x[k] * re - y[k] * im);
  out[at + 3] -= 2 * (x[k] * im + y[k] * re);
}

/** exp(−x²) for 0 ≤ x ≤ 8: exp(−n²)·exp(−(x − n)(x + n)), n the nearest tabulated point, the last by its series. */
function gaussianInside(x: number, table: Float64Array): number {
  const k = (x * STEPS + 0.5) | 0;
  const node = k * PER_STEP;
  const t = -(x - node) * (x + node);
  const t2 = t * t;
  const low = 1 + t + t2 * (1 / 2 + t * (1 / 6));
  const high = 1 / 24 + t * (1 / 120) + t2 * (1 / 720 + t * (1 / 5040));
  return table[START + k] * (low + t2 * t2 * high);
}

/** exp(y²) for y < 1/128. */
function growth(y: number): number {
  const t = y * y;
  return 1 + t * (1 + t * (1 / 2 + t * (1 / 6)));
}

/** For |angle| < 1/8. */
function cosine(angle: number): number {
  const t = angle * angle;
  return 1 - t * (1 / 2 - t * (1 / 24 - t * (1 / 720 - t * (1 / 40320))));
}

/** For |angle| < 1/8. */
function sine(angle: number): number {
  const t = angle * angle;
  return angle * (1 - t * (1 / 6 - t * (1 / 120 - t * (1 / 5040))));
}
