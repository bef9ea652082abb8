/** What least squares is asked. */
import type { Loss } from "./least-squares-loss.ts";

/**
 * Writes (WJ)ᵀWJ (n × n, column-major, its upper triangle; what stands below is of no account) and (WJ)ᵀWr at some
 * parameters, with their residuals r.
 * @param rootWeights the square root of each residual's weight; null where all are 1
 */
export type NormalEquations = (
  parameters: Float64Array,
  residuals: Float64Array,
  rootWeights: Float64Array | null,
  gram: Float64Array,
  moment: Float64Array,
) => void;

export interface LeastSquaresProblem {
  /** starting values, length n, inside the bounds */
  readonly start: readonly number[];
  /** number of residuals, m ≥ n */
  readonly residualCount: number;
  /** writes the m residuals (already divided by their standard deviations) */
  residuals(parameters: Float64Array, out: Float64Array): void;
  /** writes the Jacobian, column-major m × n; left out: central differences */
  jacobian?(parameters: Float64Array, residuals: Float64Array, out: Float64Array): void;
  /** bounds, inclusive; left out: none */
  readonly lower?: readonly number[];
  readonly upper?: readonly number[];
  /** typical size of each parameter, > 0; default max(|start|, 1) — sets difference steps only */
  readonly typical?: readonly number[];
  /** default "squares" */
  readonly loss?: Loss;
  /** residual size where a robust loss takes over, in standard deviations; default 1.5 */
  readonly lossScale?: number;
  /** default 100 */
  readonly maxIterations?: number;
  /** relative fall of the cost that counts as standing still; default 1e-14, 0 to go on until steps or gradient vanish */
  readonly costTolerance?: number;
  /**
   * Fall of the cost that counts as nothing, in the cost's own unit (½χ²); default 0. The fit ends where the slopes promise no
   * more than that, or where a step did what it promised and the next one may be expected to promise no more: the promises
   * of Gauss–Newton steps shrink by the same factor each time, or faster.
   */
  readonly fallTolerance?: number;
  /** damping of the first step, in the squares of the columns' norms; default 1e-3, less where the start is known to be near */
  readonly damping?: number;
  /** relative step that counts as standing still; default 1e-12 */
  readonly stepTolerance?: number;
  /**
   * Moves the end of a straight step, by terms of second order, to where the residuals follow the straight line better: a way along
   * a bent valley whose shape is known. The step's promise is reckoned before.
   */
  bend?(from: Float64Array, to: Float64Array): void;
  /** for thousands of residuals: `jacobian` is then asked for once, at the point where the normal equations were asked for last */
  readonly normal?: NormalEquations;
  /** false: nobody asks for the Jacobian, and with `normal` it is never drawn; the solution's is empty then */
  readonly wantsJacobian?: boolean;
}
