/** How much less a picture's misfit is worth than so many independent pixels: faults of a model come in clumps, noise does not. */
import type { FittedPicture } from "./fit-picture.ts";
import { CUT } from "./stored-light.ts";

/** χ² per degree of freedom from which on the residuals are the model's faults and no longer noise. */
export const MISFIT = 1.5;
/** Sides of the squares that residuals are summed over, pixels. */
const SQUARES = [4, 8, 16, 32];

/**
 * Mean square of the residuals' sum over squares of the picture, over what it would be were they independent; the largest
 * over several sizes of square, ≥ 1. A variance reckoned from independent pixels is too small by this.
 */
export function clumping({ hot, pixels, fit }: Pick<FittedPicture, "hot" | "pixels" | "fit">): number {
  let most = 1;
  for (const side of SQUARES) {
    const across = Math.ceil(hot.columns / side);
    const sums = new Float64Array(across * Math.ceil(hot.rows / side));
    let alone = 0;
    for (let k = 0; k < pixels.length; k++) {
      const r = (hot.light[pixels[k]] - fit.model[k]) / fit.sigma[k];
      const row = Math.floor(pixels[k] / hot.columns);
      const column = pixels[k] % hot.columns;
      sums[Math.floor(row / side) * across + Math.floor(column / side)] += r;
      alone += r * r;
    }
    let together = 0;
    for (const sum of sums) together += sum * sum;
    if (alone > 0) most = Math.max(most, together / alone);
  }
  return most;
}

/** False where the fit gave up or leans on one of its limits: its covariance then says nothing. */
export function atRest({ solution }: FittedPicture["fit"]): boolean {
  return solution.converged && !solution.atBound.some(Boolean);
}

/**
 * True where faint light is lost in counts that the model knows nothing of (colours, a dark frame taken off). A dark that is all one count: its noise is smaller than a count's
 * own, and light below half a count is lost. One cut at zero that flickers by less than a count: what was cut off cannot be
 * told from so few steps.
 */
export function coarseCounts({
  undeflected,
  hot,
  stored,
}: Pick<FittedPicture, "undeflected" | "hot" | "stored">): boolean {
  if (stored.step > 0) return false;
  const { floor } = undeflected.noise;
  const step = hot.count ** 2;
  return floor < (1.05 * step) / 12 || (hot.zeroShare > CUT && floor < 0.5 * step);
}
