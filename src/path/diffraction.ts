/** Diffraction at a beam of finite width. */

/**
 * Relative brightness in the far field of an evenly lit slit or beam of width a: (sin u/u)², u = π a sin θ/λ (Fraunhofer; Born & Wolf, "Principles of Optics").
 * First dark at sin θ = λ/a.
 * @param angle rad from the middle
 * @param width m
 * @param wavelength m
 */
export function slitPattern(angle: number, width: number, wavelength: number): number {
  const u = (Math.PI * width * Math.sin(angle)) / wavelength;
  return Math.abs(u) < 1e-8 ? 1 : (Math.sin(u) / u) ** 2;
}

/**
 * Standard deviation, in units of λ/a, of the Gaussian with the same full width at half maximum as sinc²: 0.885893 λ/a over 2√(2 ln 2). (The pattern's own
 * variance is infinite: its tails carry 10 % of the light beyond the first dark.)
 */
export const SINC2_SIGMA = 0.376205;
