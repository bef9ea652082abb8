/**
 * Phase and group velocity from a refractivity. Keep apart: phase, group, front and signal velocity are four things, and
 * only the front obeys c always (see `pulse.ts`).
 */
import type { OpticalResponse } from "./api.ts";

/** Weights of the seven-point central derivative, error O(h⁶): f′ ≈ Σ w_k (f(+k) − f(−k))/h. */
const WEIGHTS = [0.75, -0.15, 1 / 60] as const;

/**
 * dr/dλ by seven points, O(h⁶).
 * @param refractivityAt n − 1 at a vacuum wavelength, m
 * @param step h, m: small against every structure of the curve, large against rounding (10⁻⁴ λ suits a smooth medium,
 *   1/20 of a width a line)
 */
export function refractivitySlope(
  refractivityAt: (wavelength: number) => number,
  wavelength: number,
  step: number,
): number {
  let sum = 0;
  WEIGHTS.forEach((weight, k) => {
    const h = (k + 1) * step;
    sum += weight * (refractivityAt(wavelength + h) - refractivityAt(wavelength - h));
  });
  return sum / step;
}

/** Group index n − λ dn/dλ from n − 1 and its slope, 1/m. */
export function groupIndex(wavelength: number, refractivity: number, slope: number): number {
  return 1 + refractivity - wavelength * slope;
}

/** Phase velocity in units of c. */
export function phaseVelocity(refractivity: number): number {
  return 1 / (1 + refractivity);
}

/** Completes a response from n − 1, α and dn/dλ; arrays of one length. */
export function completeResponse(
  wavelength: Float64Array,
  refractivity: Float64Array,
  absorption: Float64Array,
  slope: Float64Array,
): OpticalResponse {
  return {
    wavelength,
    refractivity,
    absorption,
    phaseVelocity: refractivity.map(phaseVelocity),
    groupIndex: refractivity.map((r, i) => groupIndex(wavelength[i], r, slope[i])),
  };
}
