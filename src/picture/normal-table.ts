/** Normal deviates from random bits by table: no logarithm or exponential per pixel, and so the same bytes on every machine. */
import { log } from "../numerics/elementary/index.ts";

/** Steps of the main table. */
const STEPS = 65536;

/** Quantiles of the normal distribution at (i + ½)/65536. */
export function normalQuantiles(): Float32Array {
  const table = new Float32Array(STEPS);
  for (let i = 0; i < STEPS / 2; i++) {
    const z = quantile((i + 0.5) / STEPS);
    // Single precision swallows the last bits in which machines' logarithms may differ.
    table[i] = z;
    table[STEPS - 1 - i] = -z;
  }
  return table;
}

/**
 * Normal quantile by bisection-free rational approximation (P. J. Acklam; relative error 1.15e-9), p in (0, ½].
 * Far more than single precision needs.
 */
function quantile(p: number): number {
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * log(p));
    return (
      (((((-7.784894002430293e-3 * q - 3.223964580411365e-1) * q - 2.400758277161838) * q -
        2.549732539343734) *
        q +
        4.374664141464968) *
        q +
        2.938163982698783) /
      ((((7.784695709041462e-3 * q + 3.224671290700398e-1) * q + 2.445134137142996) * q + 3.754408661907416) *
        q +
        1)
    );
  }
  const q = p - 0.5;
  const r = q * q;
  return (
    ((((((-3.969683028665376e1 * r + 2.209460984245205e2) * r - 2.759285104469687e2) * r +
      1.38357751867269e2) *
      r -
      3.066479806614716e1) *
      r +
      2.506628277459239) *
      q) /
    (((((-5.447609879822406e1 * r + 1.615858368580409e2) * r - 1.556989798598866e2) * r +
      6.680131188771972e1) *
      r -
      1.328068155288572e1) *
      r +
      1)
  );
}
