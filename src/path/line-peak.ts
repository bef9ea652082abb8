/** How much of a slit image's own brightness is left in its middle once blur and pixels have spread it. */
import { exp } from "../numerics/elementary/index.ts";
import { faddeeva } from "../numerics/faddeeva.ts";

/** Blurs below this share of the pixel count as none: they change the answer by less than 1e-6. */
const LEAST = 1e-3;
const scratch = new Float64Array(2);

/**
 * Mean light on a pixel in the middle of a slit's image over that of the image before blur: the box of height W, folded with a Gaussian of σ and with the pixel p,
 *
 *     (σ/p)·[H((p + W)/2σ) − H(|p − W|/2σ)],  H(u) = u·erf(u/√2) + √(2/π)·exp(−u²/2)
 *
 * with H the integral of 2Φ − 1, Φ the normal distribution; without blur min(1, W/p).
 * @param slit height of the image W, m
 * @param sigma standard deviation of blur by focus and diffraction, m
 * @param pixel p, m
 */
export function linePeak(slit: number, sigma: number, pixel: number): number {
  if (sigma < LEAST * pixel) return Math.min(1, slit / pixel);
  const per = 1 / (2 * sigma);
  return (sigma / pixel) * (ramp((pixel + slit) * per) - ramp(Math.abs(pixel - slit) * per));
}

/** H(u) for u ≥ 0, with erfc(x) = exp(−x²)·w(ix) (DLMF 7.2.3). */
function ramp(u: number): number {
  const x = u * Math.SQRT1_2;
  const bell = exp(-x * x);
  faddeeva(0, x, scratch);
  return u * (1 - bell * scratch[0]) + Math.sqrt(2 / Math.PI) * bell;
}
