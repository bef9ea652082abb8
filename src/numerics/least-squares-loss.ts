/** Robust losses: what a residual costs and what it weighs when a fit reweights. */
import { log1p, pow } from "./elementary/index.ts";

/** How large residuals count: "squares" is Gaussian; "huber" and "cauchy" bound the pull of outliers beyond `scale`. */
export type Loss = "squares" | "huber" | "cauchy";

export interface LossKernel {
  cost(residuals: Float64Array): number;
  /** square root of the weight of one residual */
  rootWeight(residual: number): number;
}

/** @param scale residual size where a robust loss takes over, in standard deviations */
export function lossOf(loss: Loss, scale: number): LossKernel {
  switch (loss) {
    case "squares":
      return { cost: halfSquares, rootWeight: () => 1 };
    case "huber":
      return {
        cost: (r) => {
          let sum = 0;
          for (let i = 0; i < r.length; i++) {
            const a = Math.abs(r[i]);
            sum += a <= scale ? 0.5 * a * a : scale * (a - 0.5 * scale);
          }
          return sum;
        },
        rootWeight: (r) => (Math.abs(r) <= scale ? 1 : Math.sqrt(scale / Math.abs(r))),
      };
    case "cauchy":
      return {
        cost: (r) => {
          let sum = 0;
          for (let i = 0; i < r.length; i++) sum += 0.5 * scale * scale * log1p(pow(r[i] / scale, 2));
          return sum;
        },
        rootWeight: (r) => 1 / Math.sqrt(1 + pow(r / scale, 2)),
      };
  }
}

function halfSquares(r: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < r.length; i++) sum += r[i] * r[i];
  return 0.5 * sum;
}
