/** exp and expm1, the same bits in every engine: only sums, products and table look-ups. */
import { scaled, sumError } from "./doubles.ts";

const PER_LN2 = 1.4426950408889634;
/** ln 2 in two parts; the first has 32 bits, so that its multiples by an exponent are exact. */
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
/** Beyond these the result is infinite, or 0. */
const MOST = 709.782712893384;
const LEAST = -745.1332191019412;

/** (eʳ − 1 − r) of |r| ≤ 0.35 by its power series to r¹³. */
function beyondLinear(r: number): number {
  const z = r * r;
  const even =
    1 / 2 + z * (1 / 24 + z * (1 / 720 + z * (1 / 40320 + z * (1 / 3628800 + z * (1 / 479001600)))));
  const odd =
    1 / 6 + z * (1 / 120 + z * (1 / 5040 + z * (1 / 362880 + z * (1 / 39916800 + z * (1 / 6227020800)))));
  return z * (even + r * odd);
}

/** eˣ; error below 0.6 units of the last place (1 below 1e-308). */
export function exp(x: number): number {
  if (!(x <= MOST)) return x > MOST ? Infinity : x;
  if (x < LEAST) return 0;
  const k = Math.floor(x * PER_LN2 + 0.5);
  const high = x - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  const head = 1 + r;
  const bend = beyondLinear(r);
  return scaled(head + (r - (head - 1) + (bend + (high - r - low) * (head + bend))), k);
}

/** Both parts of the last `expParts`: eˣ = (parts[0] + parts[1])·2ᵏ. */
export const parts = new Float64Array(2);

/** e^(x + rest) in two parts, left in `parts`. @returns k */
export function expParts(x: number, rest: number): number {
  const k = Math.floor(x * PER_LN2 + 0.5);
  const high = x - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  const head = 1 + r;
  const bend = beyondLinear(r);
  const tail = r - (head - 1) + (bend + (high - r - low + rest) * (head + bend));
  parts[0] = head + tail;
  parts[1] = tail - (parts[0] - head);
  return k;
}

/** e^(x + rest) of two parts; x between −800 and 800, |rest| small against 1. */
export function expOfSum(x: number, rest: number): number {
  if (x > 710) return Infinity;
  if (x < -746) return 0;
  const k = expParts(x, rest);
  return scaled(parts[0], k);
}

/** eˣ − 1, sharp where x is small; error below 0.75 units of the last place. */
export function expm1(x: number): number {
  if (Math.abs(x) < 0.34) return x === 0 ? x : x + beyondLinear(x);
  if (x < -38) return -1;
  if (!(x < 38)) return exp(x);
  const k = expParts(x, 0);
  const large = scaled(parts[0], k);
  const sum = large - 1;
  return sum + (sumError(large, -1, sum) + scaled(parts[1], k));
}
