/** Direct solution of a general band matrix without pivoting: for matrices whose diagonal dominates. */
export interface BandedLu {
  readonly size: number;
  /** diagonals on either side of the main one */
  readonly band: number;
  /** by rows, [row · (2 band + 1) + band + column − row]; holds the matrix, then its factors */
  readonly entries: Float64Array;
}

export function createBandedLu(size: number, band: number): BandedLu {
  return { size, band, entries: new Float64Array(size * (2 * band + 1)) };
}

/** Replaces the matrix by its LU factors, in place. Throws on a vanishing pivot. */
export function factorBandedLu(matrix: BandedLu): void {
  const { size, band, entries } = matrix;
  const width = 2 * band + 1;
  for (let p = 0; p < size; p++) {
    const pivotRow = p * width + band - p;
    const pivot = entries[pivotRow + p];
    if (!(Math.abs(pivot) > 0)) throw new Error(`band matrix has no pivot in row ${p}`);
    const end = Math.min(size - 1, p + band);
    for (let row = p + 1; row <= end; row++) {
      const base = row * width + band - row;
      const factor = entries[base + p];
      if (factor === 0) continue;
      const l = factor / pivot;
      entries[base + p] = l;
      for (let column = p + 1; column <= end; column++)
        entries[base + column] -= l * entries[pivotRow + column];
    }
  }
}

/** Overwrites the right-hand side x by the solution. */
export function solveBandedLu(factors: BandedLu, x: Float64Array): void {
  const { size, band, entries } = factors;
  const width = 2 * band + 1;
  for (let row = 0; row < size; row++) {
    const base = row * width + band - row;
    let sum = x[row];
    for (let k = Math.max(0, row - band); k < row; k++) sum -= entries[base + k] * x[k];
    x[row] = sum;
  }
  for (let row = size - 1; row >= 0; row--) {
    const base = row * width + band - row;
    let sum = x[row];
    const end = Math.min(size - 1, row + band);
    for (let k = row + 1; k <= end; k++) sum -= entries[base + k] * x[k];
    x[row] = sum / entries[base + row];
  }
}
