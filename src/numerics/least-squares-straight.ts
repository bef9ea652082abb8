/** A least-squares problem straightened at one point: what a step needs of its weighted Jacobian, however that is kept. */
import type { LossKernel } from "./least-squares-loss.ts";
import type { LeastSquaresProblem, NormalEquations } from "./least-squares-problem.ts";
import { addGram, factorOfGram, factorTall, type TallQr } from "./least-squares-qr.ts";

export interface Straightened {
  /** straightens at p with residuals r; what was known of another point is gone */
  at(p: Float64Array, r: Float64Array): void;
  /** slope of the cost in one parameter */
  gradient(k: number): number;
  /** square of the length of its weighted column */
  square(k: number): number;
  /** triangle of the wanted columns */
  triangle(free: readonly number[]): TallQr;
  /** the plain Jacobian at the last point, column-major m × n */
  jacobian(): Float64Array;
}

/** From here on the Gram matrix is used instead of reflections. */
const TALL = 5000;

export function straightened(
  problem: LeastSquaresProblem,
  rho: LossKernel,
  jacobian: (p: Float64Array, r: Float64Array, out: Float64Array) => void,
): Straightened {
  const robust = problem.loss !== undefined && problem.loss !== "squares";
  const shape = { m: problem.residualCount, n: problem.start.length };
  const weights = robust ? { values: new Float64Array(shape.m), rho } : null;
  return problem.normal
    ? byProducts(shape, problem.normal, weights, jacobian)
    : byColumns(shape, weights, jacobian);
}

interface Shape {
  readonly m: number;
  readonly n: number;
}

/** Square roots of the weights of residuals, where a loss gives any. */
interface RootWeights {
  readonly values: Float64Array;
  readonly rho: LossKernel;
}

type Jacobian = (p: Float64Array, r: Float64Array, out: Float64Array) => void;

/** Columns of the Jacobian, kept. */
function byColumns({ m, n }: Shape, weights: RootWeights | null, jacobian: Jacobian): Straightened {
  const plain = new Float64Array(m * n);
  // Plain squares need no copy of the Jacobian.
  const work = weights ? new Float64Array(m * n) : plain;
  const rhs = new Float64Array(m);
  return {
    at(p, r) {
      jacobian(p, r, plain);
      rhs.set(r);
      if (weights === null) return;
      const { values, rho } = weights;
      rho.rootWeights(r, values);
      multiply(values, rhs, 0, rhs);
      for (let k = 0; k < n; k++) multiply(values, plain, k * m, work);
    },
    gradient: (k) => product(work, k * m, rhs, 0, m),
    square: (k) => product(work, k * m, work, k * m, m),
    triangle(free) {
      if (m < TALL) return factorTall(packed(work, free, m), rhs.slice(), m, free.length);
      const gram = new Float64Array(free.length * free.length);
      const moment = new Float64Array(free.length);
      const matrix = free.length === n ? work : packed(work, free, m);
      addGram(matrix, rhs, m, free.length, gram, moment);
      return factorOfGram(gram, moment, free.length);
    },
    jacobian: () => plain,
  };
}

// Loops over residuals are functions of the file: what the engine compiles for a function made within another is gone with that one.

/** out = values · from, element by element of a column that begins at `start` in both. */
function multiply(values: Float64Array, from: Float64Array, start: number, out: Float64Array): void {
  for (let i = 0; i < values.length; i++) out[start + i] = values[i] * from[start + i];
}

function product(one: Float64Array, a: number, other: Float64Array, b: number, m: number): number {
  let sum = 0;
  for (let i = 0; i < m; i++) sum += one[a + i] * other[b + i];
  return sum;
}

function packed(work: Float64Array, free: readonly number[], m: number): Float64Array {
  const matrix = new Float64Array(m * free.length);
  for (let at = 0; at < free.length; at++)
    matrix.set(work.subarray(free[at] * m, (free[at] + 1) * m), at * m);
  return matrix;
}

/** Products of the columns alone; the columns themselves are drawn when asked for. */
function byProducts(
  { m, n }: Shape,
  normal: NormalEquations,
  weights: RootWeights | null,
  jacobian: Jacobian,
): Straightened {
  const gram = new Float64Array(n * n);
  const moment = new Float64Array(n);
  let here: { readonly p: Float64Array; readonly r: Float64Array } | undefined;
  return {
    at(p, r) {
      weights?.rho.rootWeights(r, weights.values);
      normal(p, r, weights?.values ?? null, gram, moment);
      // Copies: the fit goes on writing into both.
      here = { p: p.slice(), r: r.slice() };
    },
    gradient: (k) => moment[k],
    square: (k) => gram[k * n + k],
    triangle(free) {
      const size = free.length;
      const part = new Float64Array(size * size);
      for (let b = 0; b < size; b++)
        for (let a = 0; a <= b; a++) part[b * size + a] = gram[free[b] * n + free[a]];
      return factorOfGram(
        part,
        Float64Array.from(free, (k) => moment[k]),
        size,
      );
    },
    jacobian() {
      if (here === undefined) throw new Error("a Jacobian was asked for before any point");
      const columns = new Float64Array(m * n);
      jacobian(here.p, here.r, columns);
      return columns;
    },
  };
}
