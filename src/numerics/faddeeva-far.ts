/**
 * Asymptotic series of w(z) for |z| ≥ 8: w = i/(√π z)·Σ a_k z^(−2k), w′ = −i/(√π z²)·Σ (2k + 1) a_k z^(−2k),
 * a_k = (2k − 1)!!/2^k (DLMF 7.12.1 with 7.5.1), summed by Goertzel's recurrence in real numbers.
 * Functions take array and index instead of numbers: numbers handed to a function that is not inlined are boxed.
 */
import { exp } from "./elementary/index.ts";

const INV_SQRT_PI = 0.5641895835477563;
/** a_0 … a_16 */
export const COEFFICIENTS = Float64Array.from({ length: 17 }, (_, k) => {
  let a = 1;
  for (let m = 1; m <= k; m++) a *= m - 0.5;
  return a;
});
const SLOPE_COEFFICIENTS = COEFFICIENTS.map((a, k) => (2 * k + 1) * a);

/** Below this Im z the Gaussian exp(−x²) shows in Re w. */
const GAUSSIAN_SHOWS = 1e-6;
/** |x| from which exp(−x²) is less than the smallest double. */
const GAUSSIAN_ENDS = 27.3;

/** Powers of 1/z² after the first that leave less than 10⁻¹⁶ of the series. */
function termsFor(r2: number): number {
  if (r2 > 1e4) return r2 > 1e8 ? (r2 > 1e16 ? 0 : 1) : r2 > 1e6 ? 2 : 4;
  return r2 > 400 ? 7 : r2 > 150 ? 10 : r2 > 100 ? 12 : 16;
}

/** out[at], out[at + 1] = Re w, Im w of x[k] + i·y[k], |z| ≥ 8, y ≥ 0. */
export function faddeevaFar(
  x: Float64Array,
  y: Float64Array,
  k: number,
  out: Float64Array,
  at: number,
): void {
  const a = x[k];
  const b = y[k];
  const r2 = a * a + b * b;
  if (r2 > 1e280) {
    // z² would leave the range of doubles; one term is exact here
    const scale = Math.max(Math.abs(a), b);
    const c = a / scale;
    const d = b / scale;
    const inverse = INV_SQRT_PI / (c * c + d * d) / scale;
    out[at] = d * inverse;
    out[at + 1] = c * inverse;
    return;
  }
  const inverse = 1 / r2;
  // 1/z = u − i·v; 1/z² = p − 2i·u·v
  const u = a * inverse;
  const v = b * inverse;
  const p = (u - v) * (u + v);
  const twice = 2 * p;
  const size = inverse * inverse; // |1/z²|²; 0 where it underflows, which is right
  let b1 = 0;
  let b2 = 0;
  for (let n = termsFor(r2); n >= 1; n--) {
    const next = COEFFICIENTS[n] + twice * b1 - size * b2;
    b2 = b1;
    b1 = next;
  }
  const sum = 1 - size * b2 + p * b1;
  out[at] = INV_SQRT_PI * v * (sum + 2 * b1 * u * u);
  out[at + 1] = INV_SQRT_PI * u * (sum - 2 * b1 * v * v);
  if (b < GAUSSIAN_SHOWS && Math.abs(a) < GAUSSIAN_ENDS) out[at] += gaussian(a);
}

/** out[at + 2], out[at + 3] = Re w′, Im w′ of x[k] + i·y[k], |z| ≥ 8, y ≥ 0. */
export function faddeevaFarSlope(
  x: Float64Array,
  y: Float64Array,
  k: number,
  out: Float64Array,
  at: number,
): void {
  const a = x[k];
  const b = y[k];
  const r2 = a * a + b * b;
  const inverse = 1 / r2;
  const u = a * inverse;
  const v = b * inverse;
  // 1/z² = p + i·q
  const p = (u - v) * (u + v);
  const q = -2 * u * v;
  const size = inverse * inverse;
  let b1 = 0;
  let b2 = 0;
  for (let n = termsFor(r2); n >= 1; n--) {
    const next = SLOPE_COEFFICIENTS[n] + 2 * p * b1 - size * b2;
    b2 = b1;
    b1 = next;
  }
  const sumRe = 1 - size * b2 + b1 * p;
  const sumIm = b1 * q;
  out[at + 2] = INV_SQRT_PI * (p * sumIm + q * sumRe);
  out[at + 3] = -INV_SQRT_PI * (p * sumRe - q * sumIm);
  if (b < GAUSSIAN_SHOWS && Math.abs(a) < GAUSSIAN_ENDS) out[at + 2] -= 2 * a * gaussian(a);
}

/** exp(−x²) with the rounding of x² carried along, so that large x keeps full relative accuracy. */
function gaussian(x: number): number {
  const head = Math.fround(x);
  return exp(-head * head) * exp(-(x - head) * (x + head));
}
