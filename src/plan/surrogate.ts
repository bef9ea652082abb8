/** A smooth surface through a few known points, to guess where the next forecast is worth making. */

/**
 * Cubic radial functions with a linear part, s(x) = Σ w_i |x − x_i|³ + a + b·x, through all points exactly; several
 * outputs over the same points share one elimination. (M. J. D. Powell, "The theory of radial basis function
 * approximation", 1992.)
 */
export interface Surrogate {
  /** value of output `k` at x */
  value(x: Float64Array, k: number): number;
}

/**
 * @param points coordinates in the unit cube, all different; at least d + 1 of them, not on one plane
 * @param outputs one array per output, a number for each point
 */
export function fitSurrogate(
  points: readonly Float64Array[],
  outputs: readonly (readonly number[])[],
): Surrogate {
  const n = points.length;
  const d = points[0].length;
  const size = n + d + 1;
  const columns = size + outputs.length;
  const a = Array.from({ length: size }, () => new Float64Array(columns));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) a[i][j] = cube(points[i], points[j]);
    a[i][n] = 1;
    a[n][i] = 1;
    for (let c = 0; c < d; c++) {
      a[i][n + 1 + c] = points[i][c];
      a[n + 1 + c][i] = points[i][c];
    }
    outputs.forEach((values, k) => {
      a[i][size + k] = values[i];
    });
  }
  eliminate(a, size);
  return {
    value(x, k) {
      const column = size + k;
      let sum = a[n][column];
      for (let c = 0; c < d; c++) sum += a[n + 1 + c][column] * x[c];
      for (let i = 0; i < n; i++) sum += a[i][column] * cube(x, points[i]);
      return sum;
    },
  };
}

function cube(x: Float64Array, y: Float64Array): number {
  let square = 0;
  for (let c = 0; c < x.length; c++) square += (x[c] - y[c]) ** 2;
  return square * Math.sqrt(square);
}

/** Gauss and Jordan with partial pivots; the right-hand sides stand behind the first `size` columns. */
function eliminate(a: Float64Array[], size: number): void {
  const columns = a[0].length;
  for (let k = 0; k < size; k++) {
    let pivot = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(a[i][k]) > Math.abs(a[pivot][k])) pivot = i;
    [a[k], a[pivot]] = [a[pivot], a[k]];
    const top = a[k];
    // A vanishing pivot: points on one plane. That direction then has no slope.
    if (Math.abs(top[k]) < 1e-13) {
      top.fill(0, 0, size);
      top[k] = 1;
      top.fill(0, size);
    }
    const scale = 1 / top[k];
    for (let j = k; j < columns; j++) top[j] *= scale;
    for (let i = 0; i < size; i++) {
      const factor = a[i][k];
      if (i === k || factor === 0) continue;
      for (let j = k; j < columns; j++) a[i][j] -= factor * top[j];
    }
  }
}
