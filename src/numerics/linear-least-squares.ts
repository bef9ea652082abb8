/** Weighted linear least squares with the covariance of its parameters. */
import { pow } from "./elementary/index.ts";
import { factorTall, inverseGram, solveUpper } from "./least-squares-qr.ts";

export interface LinearFit {
  readonly parameters: Float64Array;
  /** (AᵀWA)⁻¹, column-major n × n */
  readonly covariance: Float64Array;
  /** Σ (weighted residual)² */
  readonly chiSquare: number;
}

/**
 * Weighted linear least squares: minimises Σ ((b_i − Σ_j A_ij x_j)/σ_i)².
 * @param columns the n columns of A, each of length m ≥ n
 * @param sigma standard deviations, length m, > 0
 */
export function linearLeastSquares(
  columns: readonly Float64Array[],
  values: Float64Array,
  sigma: Float64Array,
): LinearFit {
  const n = columns.length;
  const m = values.length;
  if (m < n) throw new Error(`linear least squares needs at least ${n} values, got ${m}`);
  const matrix = new Float64Array(m * n);
  const rhs = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    rhs[i] = values[i] / sigma[i];
    for (let j = 0; j < n; j++) matrix[j * m + i] = columns[j][i] / sigma[i];
  }
  const qr = factorTall(matrix, rhs, m, n);
  const parameters = solveUpper(qr.upper, qr.rhs, n);
  let chiSquare = 0;
  for (let i = 0; i < m; i++) {
    let model = 0;
    for (let j = 0; j < n; j++) model += columns[j][i] * parameters[j];
    chiSquare += pow((values[i] - model) / sigma[i], 2);
  }
  return { parameters, covariance: inverseGram(qr.upper, n), chiSquare };
}
