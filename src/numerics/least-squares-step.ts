/** The linear algebra of one Levenberg–Marquardt step: triangle of the Jacobian, damped step, predicted fall. */
import type { AddGram } from "./least-squares-problem.ts";
import { factorGram, factorTall, solveUpper, type TallQr } from "./least-squares-qr.ts";

/** From here on the Gram matrix is used instead of reflections. */
const TALL = 5000;

export function triangleOf(
  work: Float64Array,
  rhs: Float64Array,
  free: readonly number[],
  m: number,
  n: number,
  addGram?: AddGram,
): TallQr {
  if (m < TALL) return factorTall(pack(work, free, m), rhs, m, free.length);
  return factorGram(free.length === n ? work : pack(work, free, m), rhs, m, free.length, addGram);
}

function pack(work: Float64Array, free: readonly number[], m: number): Float64Array {
  const packed = new Float64Array(m * free.length);
  for (let at = 0; at < free.length; at++)
    packed.set(work.subarray(free[at] * m, (free[at] + 1) * m), at * m);
  return packed;
}

/** Solves the triangle stacked on √λ·D, the classic two-stage form. */
export function dampedStep(
  upper: Float64Array,
  rhs: Float64Array,
  free: readonly number[],
  scaling: Float64Array,
  damping: number,
): Float64Array {
  const n = free.length;
  const stacked = new Float64Array(2 * n * n);
  const stackedRhs = new Float64Array(2 * n);
  for (let j = 0; j < n; j++) {
    for (let i = 0; i <= j; i++) stacked[j * 2 * n + i] = upper[j * n + i];
    stacked[j * 2 * n + n + j] = Math.sqrt(damping) * scaling[free[j]];
    stackedRhs[j] = rhs[j];
  }
  const small = factorTall(stacked, stackedRhs, 2 * n, n);
  return solveUpper(small.upper, small.rhs, n);
}

/** Fall of the quadratic model from the present point to the trial point. */
export function predictedFall(
  upper: Float64Array,
  rhs: Float64Array,
  free: readonly number[],
  from: Float64Array,
  to: Float64Array,
): number {
  const n = free.length;
  let fall = 0;
  for (let i = 0; i < n; i++) {
    let move = 0;
    for (let j = i; j < n; j++) move += upper[j * n + i] * (to[free[j]] - from[free[j]]);
    fall -= rhs[i] * move + 0.5 * move * move;
  }
  return fall;
}

/** Share of its norm below which a parameter counts as having lost its influence. */
const LOST = 1e-3;

/** Norms of the free columns; true where one has all but vanished since the last point. */
export function columnNorms(
  work: Float64Array,
  free: readonly number[],
  m: number,
  norms: Float64Array,
  influence: Float64Array,
): boolean {
  let lost = false;
  for (const k of free) {
    let norm = 0;
    for (let i = 0; i < m; i++) norm += work[k * m + i] * work[k * m + i];
    norms[k] = Math.sqrt(norm);
    lost ||= norms[k] < LOST * influence[k];
  }
  return lost;
}
