/** Robust losses: what residuals cost and what they weigh when a fit reweights. */
import { log1p, pow } from "./elementary/index.ts";

/** How large residuals count: "squares" is Gaussian; "huber" and "cauchy" bound the pull of outliers beyond `scale`. */
export type Loss = "squares" | "huber" | "cauchy";

export interface LossKernel {
  cost(residuals: Float64Array): number;
  /** writes the square root of each residual's weight */
  rootWeights(residuals: Float64Array, out: Float64Array): void;
}

/** @param scale residual size where a robust loss takes over, in standard deviations */
export function lossOf(loss: Loss, scale: number): LossKernel {
  switch (loss) {
    case "squares":
      return { cost: halfSquares, rootWeights: (_, out) => out.fill(1) };
    case "huber":
      return {
        cost: (r) => huberCost(r, scale),
        rootWeights: (r, out) => {
          huberRoots(r, scale, out);
        },
      };
    case "cauchy":
      return {
        cost: (r) => cauchyCost(r, scale),
        rootWeights: (r, out) => {
          cauchyRoots(r, scale, out);
        },
      };
  }
}

// The loops are functions of the file: what the engine compiles for a function made within another is gone with that one.

function halfSquares(r: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < r.length; i++) sum += r[i] * r[i];
  return 0.5 * sum;
}

function huberCost(r: Float64Array, scale: number): number {
  let sum = 0;
  for (let i = 0; i < r.length; i++) {
    const a = Math.abs(r[i]);
    sum += a <= scale ? 0.5 * a * a : scale * (a - 0.5 * scale);
  }
  return sum;
}

function huberRoots(r: Float64Array, scale: number, out: Float64Array): void {
  for (let i = 0; i < r.length; i++) out[i] = Math.abs(r[i]) <= scale ? 1 : Math.sqrt(scale / Math.abs(r[i]));
}

function cauchyCost(r: Float64Array, scale: number): number {
  let sum = 0;
  for (let i = 0; i < r.length; i++) sum += 0.5 * scale * scale * log1p(pow(r[i] / scale, 2));
  return sum;
}

function cauchyRoots(r: Float64Array, scale: number, out: Float64Array): void {
  for (let i = 0; i < r.length; i++) out[i] = 1 / Math.sqrt(1 + pow(r[i] / scale, 2));
}
