/** Diffraction at a beam of finite width. */
import { cos, pow, sin } from "../numerics/elementary/index.ts";

/**
 * Relative brightness in the far field of an evenly lit slit or beam of width a: (sin u/u)², u = π a sin θ/λ (Fraunhofer; Born & Wolf, "Principles of Optics").
 * First dark at sin θ = λ/a.
 * @param angle rad from the middle
 * @param width m
 * @param wavelength m
 */
export function slitPattern(angle: number, width: number, wavelength: number): number {
  const u = (Math.PI * width * sin(angle)) / wavelength;
  return Math.abs(u) < 1e-8 ? 1 : pow(sin(u) / u, 2);
}

/**
 * The same for a round opening of diameter D: (2 J1(u)/u)², u = π D sin θ/λ (Airy). First dark at sin θ = 1.21967 λ/D.
 * @param angle rad from the middle
 * @param diameter m
 * @param wavelength m
 */
export function roundPattern(angle: number, diameter: number, wavelength: number): number {
  const u = (Math.PI * diameter * sin(angle)) / wavelength;
  return Math.abs(u) < 1e-6 ? 1 : pow((2 * besselJ1(u)) / u, 2);
}

/**
 * Bessel's function J1 by its integral (1/π)∫cos(t − u sin t)dt over half a turn: the trapezium rule on a periodic integrand converges faster than any power.
 * Absolute error below 1e-14 for |u| ≤ 100.
 */
function besselJ1(u: number): number {
  const steps = 32 + Math.ceil(Math.abs(u));
  let sum = 0;
  for (let k = 0; k < 2 * steps; k++) {
    const t = (Math.PI * k) / steps;
    sum += cos(t - u * sin(t));
  }
  return sum / (2 * steps);
}

/**
 * Standard deviation, in units of λ/a, of the Gaussian with the same full width at half maximum as sinc²: 0.885893 λ/a over 2√(2 ln 2). (The pattern's own
 * variance is infinite: its tails carry 10 % of the light beyond the first dark.)
 */
export const SINC2_SIGMA = 0.376205;

/** The same for Airy's pattern, in units of λ/D: 1.028994 λ/D over 2√(2 ln 2). */
export const AIRY_SIGMA = 0.436974;
