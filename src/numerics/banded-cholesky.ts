/**
 * Direct solution of a symmetric positive definite band matrix: for grids small enough that iterating is not worth it.
 * Cost n·b² once and n·b per solution.
 */
export interface BandedCholesky {
  readonly size: number;
  /** number of subdiagonals */
  readonly band: number;
  /** lower triangle by rows, [row · (band + 1) + band + column − row]; holds the matrix, then its factor */
  readonly lower: Float64Array;
}

export function createBanded(size: number, band: number): BandedCholesky {
  return { size, band, lower: new Float64Array(size * (band + 1)) };
}

/** Replaces the matrix by its Cholesky factor, in place. Throws if the matrix is not positive definite. */
export function factorBanded(matrix: BandedCholesky): void {
  const { size, band, lower } = matrix;
  const width = band + 1;
  for (let row = 0; row < size; row++) {
    const first = Math.max(0, row - band);
    for (let column = first; column <= row; column++) {
      const start = Math.max(first, column - band);
      let sum = lower[row * width + band + column - row];
      for (let k = start; k < column; k++) {
        sum -= lower[row * width + band + k - row] * lower[column * width + band + k - column];
      }
      if (column < row) {
        lower[row * width + band + column - row] = sum / lower[column * width + band];
      } else {
        if (!(sum > 0)) throw new Error(`band matrix is not positive definite at row ${row}`);
        lower[row * width + band] = Math.sqrt(sum);
      }
    }
  }
}

/** Overwrites x, which holds the right-hand side from `offset` on, by the solution. */
export function solveBanded(factor: BandedCholesky, x: Float64Array, offset: number): void {
  const { size, band, lower } = factor;
  const width = band + 1;
  for (let row = 0; row < size; row++) {
    let sum = x[offset + row];
    for (let k = Math.max(0, row - band); k < row; k++)
      sum -= lower[row * width + band + k - row] * x[offset + k];
    x[offset + row] = sum / lower[row * width + band];
  }
  for (let row = size - 1; row >= 0; row--) {
    const value = x[offset + row] / lower[row * width + band];
    x[offset + row] = value;
    for (let k = Math.max(0, row - band); k < row; k++)
      x[offset + k] -= lower[row * width + band + k - row] * value;
  }
}
