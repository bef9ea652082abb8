import { Refusal } from "../quantity/refusal.ts";
import { CELL, faddeevaTable, NODES, SPLIT, TERMS } from "./faddeeva-table.ts";

const INV_SQRT_PI = 0.5641895835477563;
/** (2k − 1)!!/2^k, the coefficients of w(z) = i/(√π z)·Σ a_k z^(−2k). */
export const ASYMPTOTIC = Float64Array.from({ length: 17 }, (_, k) => {
  let a = 1;
  for (let m = 1; m <= k; m++) a *= m - 0.5;
  return a;
});
const STRIDE = 2 * TERMS;

/**
 * Faddeeva function w(z) = exp(−z²)·erfc(−iz) of z = x + iy in the closed upper half plane, written as
 * out[offset] = Re w, out[offset + 1] = Im w. See `faddeevaArray` for regimes and accuracy.
 *
 * @param x real part, finite
 * @param y imaginary part, finite, ≥ 0
 * @throws Refusal where x or y is not finite or y < 0
 */
export function faddeeva(x: number, y: number, out: Float64Array, offset = 0): void {
  if (!(y >= 0 && y < Infinity && Math.abs(x) < Infinity)) {
    throw new Refusal({
      code: "outside-upper-half-plane",
      field: "z",
      received: `${String(x)} + ${String(y)}i`,
      expected: "a finite complex number with Im z ≥ 0",
    });
  }
  evaluate(x, y, faddeevaTable(), out, offset);
}

/**
 * Faddeeva function of many points: out[2k] = Re w, out[2k + 1] = Im w of z_k = x[k] + i·y[k].
 *
 * Regimes, cheapest test first:
 * - |z|² ≥ 64: asymptotic series i/(√π z)·Σ (2k − 1)!!/2^k z^(−2k) (DLMF 7.12.1 with 7.5.1), as many terms as |z| asks for
 *   (1 beyond 10⁸, 15 at 8), plus exp(−x²) where Im z < 10⁻⁶ lets it show;
 * - else Taylor series of 16 terms about the nearest node of a grid of side ¼, plus exp(−z²) for Im z < ⅛,
 *   Re z > 2⅝ (see `faddeeva-table.ts`).
 * Both halves x < 0 and x > 0 are mirror images to the last bit.
 *
 * @param out interleaved, at least 2·x.length; must not overlap x or y
 * @throws Refusal as `faddeeva`
 */
export function faddeevaArray(x: Float64Array, y: Float64Array, out: Float64Array): void {
  const table = faddeevaTable();
  for (let k = 0; k < x.length; k++) {
    if (!(y[k] >= 0 && y[k] < Infinity && Math.abs(x[k]) < Infinity)) faddeeva(x[k], y[k], out, 2 * k);
    else evaluate(x[k], y[k], table, out, 2 * k);
  }
}

/** The kernel: z in the closed upper half plane, unchecked. Allocates nothing. */
export function evaluate(x: number, y: number, table: Float64Array, out: Float64Array, offset: number): void {
  const ax = Math.abs(x);
  const r2 = x * x + y * y;
  if (r2 >= 64) {
    evaluateFar(ax, y, r2, out, offset);
  } else {
    const i = (ax * 4 + 0.5) | 0;
    const j = (y * 4 + 0.5) | 0;
    const dRe = ax - i * CELL;
    const dIm = y - j * CELL;
    let at = (j * NODES + i) * STRIDE;
    const end = at + STRIDE;
    let re = table[at];
    let im = table[at + 1];
    for (at += 2; at < end; at += 2) {
      const next = re * dRe - im * dIm + table[at];
      im = re * dIm + im * dRe + table[at + 1];
      re = next;
    }
    if (j === 0 && i >= SPLIT) {
      const size = Math.exp(y * y - ax * ax);
      const angle = 2 * ax * y;
      re += size * Math.cos(angle);
      im -= size * Math.sin(angle);
    }
    out[offset] = re;
    out[offset + 1] = im;
  }
  if (x < 0) out[offset + 1] = -out[offset + 1];
}

/** Powers of 1/z² after the first that leave less than 10⁻¹⁶ of the asymptotic series. */
function termsFor(r2: number): number {
  if (r2 > 1e4) return r2 > 1e8 ? (r2 > 1e16 ? 0 : 1) : r2 > 1e6 ? 2 : 4;
  return r2 > 400 ? 7 : r2 > 150 ? 10 : r2 > 100 ? 12 : 16;
}

/** Asymptotic series for |z|² = r2 ≥ 64, x ≥ 0. */
function evaluateFar(x: number, y: number, r2: number, out: Float64Array, offset: number): void {
  if (r2 > 1e280) {
    // z² would leave the range of doubles; one term is exact here
    const scale = Math.max(x, y);
    const a = x / scale;
    const b = y / scale;
    const inverse = INV_SQRT_PI / (a * a + b * b) / scale;
    out[offset] = b * inverse;
    out[offset + 1] = a * inverse;
    return;
  }
  const inverse = 1 / r2;
  // 1/z = u − i·v
  const u = x * inverse;
  const v = y * inverse;
  const twice = 2 * (u - v) * (u + v);
  const size = inverse * inverse; // |1/z²|²; 0 where it underflows, which is right
  let b1 = 0;
  let b2 = 0;
  for (let k = termsFor(r2); k >= 1; k--) {
    const b = ASYMPTOTIC[k] + twice * b1 - size * b2;
    b2 = b1;
    b1 = b;
  }
  const sum = 1 - size * b2 + 0.5 * twice * b1;
  out[offset] = INV_SQRT_PI * v * (sum + 2 * b1 * u * u);
  out[offset + 1] = INV_SQRT_PI * u * (sum - 2 * b1 * v * v);
  if (y < 1e-6 && x < 27) out[offset] += gaussian(x);
}

/** exp(−x²) with the rounding of x² carried along, so that large x keeps full relative accuracy. */
export function gaussian(x: number): number {
  const head = Math.fround(x);
  return Math.exp(-head * head) * Math.exp(-(x - head) * (x + head));
}

/**
 * The kernel with the derivative: out[offset …] = Re w, Im w, Re w′, Im w′, w′ = dw/dz. The derivative comes from the
 * same series, not from w′ = −2zw + 2i/√π, which loses all digits far out. Unchecked; allocates nothing.
 */
export function evaluateWithSlope(
  x: number,
  y: number,
  table: Float64Array,
  out: Float64Array,
  offset: number,
): void {
  const ax = Math.abs(x);
  const r2 = x * x + y * y;
  if (r2 >= 64) {
    slopeFar(ax, y, r2, out, offset);
  } else {
    const i = (ax * 4 + 0.5) | 0;
    const j = (y * 4 + 0.5) | 0;
    const dRe = ax - i * CELL;
    const dIm = y - j * CELL;
    let at = (j * NODES + i) * STRIDE;
    const end = at + STRIDE;
    let re = table[at];
    let im = table[at + 1];
    let slopeRe = 0;
    let slopeIm = 0;
    for (at += 2; at < end; at += 2) {
      const nextSlope = slopeRe * dRe - slopeIm * dIm + re;
      slopeIm = slopeRe * dIm + slopeIm * dRe + im;
      slopeRe = nextSlope;
      const next = re * dRe - im * dIm + table[at];
      im = re * dIm + im * dRe + table[at + 1];
      re = next;
    }
    if (j === 0 && i >= SPLIT) {
      const size = Math.exp(y * y - ax * ax);
      const angle = 2 * ax * y;
      const eRe = size * Math.cos(angle);
      const eIm = -size * Math.sin(angle);
      re += eRe;
      im += eIm;
      slopeRe -= 2 * (ax * eRe - y * eIm);
      slopeIm -= 2 * (ax * eIm + y * eRe);
    }
    out[offset] = re;
    out[offset + 1] = im;
    out[offset + 2] = slopeRe;
    out[offset + 3] = slopeIm;
  }
  if (x < 0) {
    // w(−x + iy) is the conjugate of w(x + iy), so its derivative is minus the conjugate
    out[offset + 1] = -out[offset + 1];
    out[offset + 2] = -out[offset + 2];
  }
}

/** w as `evaluateFar` gives it, and w′ = −i/(√π z²)·Σ (2k + 1) a_k z^(−2k). */
function slopeFar(x: number, y: number, r2: number, out: Float64Array, offset: number): void {
  evaluateFar(x, y, r2, out, offset);
  const inverse = 1 / r2;
  const u = x * inverse;
  const v = y * inverse;
  // 1/z² = p + i·q
  const p = (u - v) * (u + v);
  const q = -2 * u * v;
  const size = p * p + q * q;
  let b1 = 0;
  let b2 = 0;
  for (let k = termsFor(r2); k >= 1; k--) {
    const b = (2 * k + 1) * ASYMPTOTIC[k] + 2 * p * b1 - size * b2;
    b2 = b1;
    b1 = b;
  }
  const sumRe = 1 - size * b2 + b1 * p;
  const sumIm = b1 * q;
  out[offset + 2] = INV_SQRT_PI * (p * sumIm + q * sumRe);
  out[offset + 3] = -INV_SQRT_PI * (p * sumRe - q * sumIm);
  if (y < 1e-6 && x < 27) out[offset + 2] -= 2 * x * gaussian(x);
}
