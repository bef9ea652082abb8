/** Inverse of a small symmetric positive definite matrix, for normal equations of a few hundred unknowns at most. */

/** What is added to the scaled diagonal: a parameter without influence gets a huge variance instead of a division by zero. */
const RIDGE = 1e-14;

/**
 * @param matrix n × n, symmetric; rows and columns may differ in size by any powers, they are scaled to a unit diagonal first
 * @returns its inverse, n × n; good to about 1e-16 times the condition number of the scaled matrix
 * @throws an ordinary Error where the matrix is not positive definite
 */
export function choleskyInverse(matrix: Float64Array, n: number): Float64Array {
  const scale = Float64Array.from(
    { length: n },
    (_, i) => 1 / Math.sqrt(Math.max(matrix[i * n + i], 1e-300)),
  );
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j] * scale[i] * scale[j] + (i === j ? RIDGE : 0);
      for (let k = 0; k < j; k++) sum -= lower[i * n + k] * lower[j * n + k];
      if (i !== j) lower[i * n + j] = sum / lower[j * n + j];
      else if (sum > 0) lower[i * n + i] = Math.sqrt(sum);
      else throw new Error("a matrix that is not positive definite");
    }
  const inverse = new Float64Array(n * n);
  const x = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    for (let i = 0; i < n; i++) {
      let sum = i === c ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= lower[i * n + k] * x[k];
      x[i] = sum / lower[i * n + i];
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i];
      for (let k = i + 1; k < n; k++) sum -= lower[k * n + i] * x[k];
      x[i] = sum / lower[i * n + i];
    }
    for (let i = 0; i < n; i++) inverse[i * n + c] = x[i] * scale[i] * scale[c];
  }
  return inverse;
}
