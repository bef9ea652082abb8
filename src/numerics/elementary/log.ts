/** log, log1p and log10, the same bits in every engine. */
import { exponentOf, mantissaOf, productError, sumError } from "./doubles.ts";

/** ln 2 in two parts; the first has 32 bits, so that its multiples by an exponent are exact. */
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const SMALLEST_NORMAL = 2.2250738585072014e-308;
const TWO_54 = 18014398509481984;

/** 2·artanh(s)/s − 2 of |s| ≤ 0.172 by its power series to s²⁰. */
function beyondFirst(s: number): number {
  const z = s * s;
  const w = z * z;
  const odd = 2 / 3 + w * (2 / 7 + w * (2 / 11 + w * (2 / 15 + w * (2 / 19))));
  const even = 2 / 5 + w * (2 / 9 + w * (2 / 13 + w * (2 / 17 + w * (2 / 21))));
  return z * odd + w * even;
}

/**
 * ln((1 + f)·2ᵏ) + rest for 1 + f from √½ to √2: with s = f/(2 + f), ln(1 + f) = 2 artanh s = f − (f²/2 − s·(f²/2 + R(s))),
 * where the large part f is exact.
 */
function logOf(k: number, f: number, rest: number): number {
  const s = f / (2 + f);
  const half = 0.5 * f * f;
  return k * LN2_HIGH - (half - (s * (half + beyondFirst(s)) + (k * LN2_LOW + rest)) - f);
}

/** What a logarithm gives where its argument is no positive finite number. */
function atTheEnd(x: number): number {
  return x === 0 ? -Infinity : x > 0 ? Infinity : NaN;
}

/** ln x; error below 0.9 units of the last place. */
export function log(x: number): number {
  if (!(x > 0 && x < Infinity)) return atTheEnd(x);
  if (x < SMALLEST_NORMAL) {
    const up = x * TWO_54;
    const k = exponentOf(up);
    return logOf(k - 54, mantissaOf(up, k) - 1, 0);
  }
  const k = exponentOf(x);
  return logOf(k, mantissaOf(x, k) - 1, 0);
}

/** ln(1 + x), sharp where x is small; error below 0.9 units of the last place. */
export function log1p(x: number): number {
  if (x > -0.29 && x < 0.41) return x === 0 ? x : logOf(0, x, 0);
  const u = 1 + x;
  if (!(u > 0 && u < Infinity)) return atTheEnd(u);
  const k = exponentOf(u);
  return logOf(k, mantissaOf(u, k) - 1, sumError(1, x, u) / u);
}

/** Both parts of the last `logParts`. */
export const parts = new Float64Array(2);

const THIRD = 1 / 3;
const THIRD_LOW = 1.850371707708594e-17;

/**
 * ln of a positive finite double in two parts, left in `parts`; error below 2⁻⁶⁵ of the result, or of 1 where that is more.
 * Series of 2 artanh s as above with s, s² and the term of s³ in two parts each.
 */
export function logParts(positive: number): void {
  const subnormal = positive < SMALLEST_NORMAL;
  const x = subnormal ? positive * TWO_54 : positive;
  const own = exponentOf(x);
  const k = subnormal ? own - 54 : own;
  const f = mantissaOf(x, own) - 1;
  const b = 2 + f;
  const bLow = f - (b - 2);
  const s = f / b;
  const sb = s * b;
  const sLow = (f - sb - productError(s, b, sb) - s * bLow) / b;
  const z = s * s;
  const zLow = productError(s, s, z) + 2 * s * sLow;
  const w = z * z;
  const tail =
    z * (1 / 5 + w * (1 / 9 + w * (1 / 13 + w * (1 / 17 + w * (1 / 21))))) +
    w * (1 / 7 + w * (1 / 11 + w * (1 / 15 + w * (1 / 19))));
  // c = 1/3 + tail, q = z·c, p = s·q, each in two parts; ln(1 + f) = 2 (s + p)
  const c = THIRD + tail;
  const cLow = tail - (c - THIRD) + THIRD_LOW;
  const q = z * c;
  const qLow = productError(z, c, q) + (z * cLow + zLow * c);
  const p = s * q;
  const pLow = productError(s, q, p) + (s * qLow + sLow * q);
  const sum = s + p;
  const sumLow = p - (sum - s) + (sLow + pLow);
  const whole = k * LN2_HIGH;
  const all = whole + 2 * sum;
  const rest = sumError(whole, 2 * sum, all) + (2 * sumLow + k * LN2_LOW);
  parts[0] = all + rest;
  parts[1] = rest - (parts[0] - all);
}

/** 1/ln 10 in two parts, the first of 26 bits. */
const PER_LN10 = 0.4342944819032518;
const PER_LN10_LOW = 1.098319650216765e-17;

/** Decadic logarithm; error below 0.6 units of the last place, whole at powers of ten. */
export function log10(x: number): number {
  if (!(x > 0 && x < Infinity)) return atTheEnd(x);
  logParts(x);
  const product = parts[0] * PER_LN10;
  return (
    product + (productError(parts[0], PER_LN10, product) + (parts[0] * PER_LN10_LOW + parts[1] * PER_LN10))
  );
}
