/**
 * Householder QR for tall least-squares systems, and the small triangular solves that go with it.
 * Matrices are column-major: element (i, j) of an m × n matrix lies at j·m + i, because every kernel runs down columns.
 */

export interface TallQr {
  /** upper triangle, n × n column-major */
  readonly upper: Float64Array;
  /** first n entries of Qᵀb, length n */
  readonly rhs: Float64Array;
}

/**
 * Factors A = QR by Householder reflections and carries a right-hand side along.
 * @param matrix column-major m × n, m ≥ n; overwritten
 * @param rhs length m; overwritten
 * Source: Golub & Van Loan, Matrix Computations, algorithm 5.2.1 (from memory).
 */
export function factorTall(matrix: Float64Array, rhs: Float64Array, rows: number, columns: number): TallQr {
  const diagonal = new Float64Array(columns);
  for (let k = 0; k < columns; k++) {
    const base = k * rows;
    let norm = 0;
    for (let i = k; i < rows; i++) norm += matrix[base + i] * matrix[base + i];
    norm = Math.sqrt(norm);
    if (norm === 0) continue;
    const alpha = matrix[base + k] > 0 ? -norm : norm;
    const head = matrix[base + k] - alpha;
    diagonal[k] = alpha;
    matrix[base + k] = head;
    // v = (head, a_{k+1..m}); 2/(vᵀv) = −1/(alpha·head)
    const beta = -1 / (alpha * head);
    for (let j = k + 1; j < columns; j++) reflect(matrix, base, matrix, j * rows, k, rows, beta);
    reflect(matrix, base, rhs, 0, k, rows, beta);
  }
  const upper = new Float64Array(columns * columns);
  for (let j = 0; j < columns; j++) {
    for (let i = 0; i < j; i++) upper[j * columns + i] = matrix[j * rows + i];
    upper[j * columns + j] = diagonal[j];
  }
  return { upper, rhs: rhs.slice(0, columns) };
}

function reflect(
  vectors: Float64Array,
  vBase: number,
  target: Float64Array,
  tBase: number,
  from: number,
  rows: number,
  beta: number,
): void {
  let dot = 0;
  for (let i = from; i < rows; i++) dot += vectors[vBase + i] * target[tBase + i];
  const scale = beta * dot;
  for (let i = from; i < rows; i++) target[tBase + i] -= scale * vectors[vBase + i];
}

/**
 * The same triangle by Cholesky's factor of AᵀA with columns scaled to unit length: a third of the work, at the price of
 * half the digits where columns are nearly parallel. For rows in the tens of thousands.
 * A column that others make up to 1e-14 gets a zero pivot.
 * @param gram AᵀA, its upper triangle
 * @param moment Aᵀb
 */
export function factorOfGram(gram: Float64Array, moment: Float64Array, columns: number): TallQr {
  const scale = Float64Array.from({ length: columns }, (_, j) => Math.sqrt(gram[j * columns + j]));
  const upper = new Float64Array(columns * columns);
  const projected = new Float64Array(columns);
  for (let j = 0; j < columns; j++) {
    for (let i = 0; i <= j; i++) {
      const unit = scale[i] * scale[j];
      let sum = unit > 0 ? gram[j * columns + i] / unit : 0;
      for (let k = 0; k < i; k++) sum -= upper[i * columns + k] * upper[j * columns + k];
      const pivot = upper[i * columns + i];
      if (i < j) upper[j * columns + i] = pivot === 0 ? 0 : sum / pivot;
      else upper[j * columns + j] = sum > 1e-14 ? Math.sqrt(sum) : 0;
    }
    let sum = scale[j] > 0 ? moment[j] / scale[j] : 0;
    for (let k = 0; k < j; k++) sum -= upper[j * columns + k] * projected[k];
    const pivot = upper[j * columns + j];
    projected[j] = pivot === 0 ? 0 : sum / pivot;
  }
  for (let j = 0; j < columns; j++) for (let i = 0; i <= j; i++) upper[j * columns + i] *= scale[j];
  return { upper, rhs: projected };
}

/** Rows taken together, so that all their columns stay in the processor's nearest memory. */
export const GRAM_BLOCK = 128;

/**
 * Adds AᵀA (columns × columns, column-major, its upper triangle; what stands below is of no account) and Aᵀb of a
 * column-major rows × columns matrix.
 */
export function addGram(
  matrix: Float64Array,
  rhs: Float64Array,
  rows: number,
  columns: number,
  gram: Float64Array,
  moment: Float64Array,
): void {
  for (let from = 0; from < rows; from += GRAM_BLOCK)
    addBlock(matrix, rhs, rows, columns, from, Math.min(from + GRAM_BLOCK, rows), gram, moment);
}

/** Adds the products of some rows' columns, two columns by two at a time: each number fetched serves twice. */
function addBlock(
  matrix: Float64Array,
  rhs: Float64Array,
  rows: number,
  columns: number,
  from: number,
  to: number,
  gram: Float64Array,
  moment: Float64Array,
): void {
  for (let j = 0; j < columns; j += 2) {
    const a = j * rows;
    // An odd last column is paired with itself; what that gives twice is written once.
    const paired = j + 1 < columns;
    const b = paired ? a + rows : a;
    let first = 0;
    let second = 0;
    for (let r = from; r < to; r++) {
      first += matrix[a + r] * rhs[r];
      second += matrix[b + r] * rhs[r];
    }
    moment[j] += first;
    if (paired) moment[j + 1] += second;
    for (let i = 0; i <= j; i += 2) {
      const c = i * rows;
      const both = i + 1 < columns;
      const d = both ? c + rows : c;
      let ac = 0;
      let ad = 0;
      let bc = 0;
      let bd = 0;
      for (let r = from; r < to; r++) {
        const x = matrix[a + r];
        const y = matrix[b + r];
        const u = matrix[c + r];
        const v = matrix[d + r];
        ac += x * u;
        ad += x * v;
        bc += y * u;
        bd += y * v;
      }
      gram[j * columns + i] += ac;
      if (both && i < j) gram[j * columns + i + 1] += ad;
      if (paired) gram[(j + 1) * columns + i] += bc;
      if (paired && both) gram[(j + 1) * columns + i + 1] += bd;
    }
  }
}

/** Solves R x = b for an upper triangle (column-major n × n); a zero pivot gives 0 in that place. */
export function solveUpper(upper: Float64Array, rhs: Float64Array, n: number): Float64Array {
  const x = rhs.slice(0, n);
  for (let j = n - 1; j >= 0; j--) {
    const pivot = upper[j * n + j];
    x[j] = pivot === 0 ? 0 : x[j] / pivot;
    for (let i = 0; i < j; i++) x[i] -= upper[j * n + i] * x[j];
  }
  return x;
}

/**
 * (RᵀR)⁻¹, the covariance of least-squares parameters with unit weights, column-major n × n.
 * A parameter without influence (zero pivot) gets an infinite variance.
 */
export function inverseGram(upper: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const unit = new Float64Array(n);
    unit[k] = 1;
    const column = solveUpper(upper, unit, n);
    inverse.set(column, k * n);
  }
  const gram = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < n; k++) sum += inverse[k * n + i] * inverse[k * n + j];
      gram[j * n + i] = sum;
      gram[i * n + j] = sum;
    }
    if (upper[i * n + i] === 0) gram[i * n + i] = Number.POSITIVE_INFINITY;
  }
  return gram;
}
