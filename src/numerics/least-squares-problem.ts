/** What least squares is asked. */
import type { Loss } from "./least-squares-loss.ts";

/**
 * Adds AᵀA (columns × columns, column-major, its upper triangle; what stands below is of no account) and Aᵀb of a
 * column-major rows × columns matrix.
 */
export type AddGram = (
  matrix: Float64Array,
  rhs: Float64Array,
  rows: number,
  columns: number,
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
  /** predicted fall of the cost that counts as nothing, in the cost's own unit (½χ²); default 0 */
  readonly fallTolerance?: number;
  /** relative step that counts as standing still; default 1e-12 */
  readonly stepTolerance?: number;
  /** a faster `addGram` with the same result, used where there are thousands of residuals */
  readonly addGram?: AddGram;
}
