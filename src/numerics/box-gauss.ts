/** A box folded with a pixel and a Gaussian, and the integrals of the normal distribution that it is made of: how a slit's image spreads. */
import { exp } from "./elementary/index.ts";
import { faddeeva } from "./faddeeva.ts";

/** Openings and blurs below this many pixels count as this much: changes the second moment by 1e-4 of a pixel's own. */
export const LEAST = 0.01;

/** Box of width `slit` folded with a box of width 1 and a Gaussian, all of area 1. */
export function boxPixelGauss(u: number, slit: number, sigma: number): number {
  const s = Math.max(slit, LEAST);
  const a = s / 2;
  return (
    (ramp(u + a + 0.5, sigma) -
      ramp(u + a - 0.5, sigma) -
      ramp(u - a + 0.5, sigma) +
      ramp(u - a - 0.5, sigma)) /
    s
  );
}

/** Integral of the normal distribution up to u. */
function normal(u: number, sigma: number): number {
  if (sigma < LEAST) return u > 0 ? 1 : u < 0 ? 0 : 0.5;
  const x = Math.abs(u) / (sigma * Math.SQRT2);
  const tail = 0.5 * erfc(x);
  return u > 0 ? 1 - tail : tail;
}

/** Second integral: ∫ of `normal` up to u, that is a ramp rounded off by the Gaussian. */
export function ramp(u: number, sigma: number): number {
  if (sigma < LEAST) return Math.max(0, u);
  const x = u / sigma;
  const density = exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return u * normal(u, sigma) + sigma * density;
}

/** Third integral: ∫ of `ramp` up to u. */
export function bend(u: number, sigma: number): number {
  if (sigma < LEAST) return u > 0 ? (u * u) / 2 : 0;
  const x = u / sigma;
  const density = exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return ((u * u + sigma * sigma) * normal(u, sigma) + sigma * u * density) / 2;
}

const scratch = new Float64Array(2);

/** Complementary error function of x ≥ 0 by w(ix) = exp(x²)·erfc(x) (DLMF 7.2.3). */
function erfc(x: number): number {
  faddeeva(0, x, scratch);
  return exp(-x * x) * scratch[0];
}
