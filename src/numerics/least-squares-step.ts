/** The linear algebra of one Levenberg–Marquardt step: damped step, predicted fall, lost columns. */
import { factorTall, solveUpper } from "./least-squares-qr.ts";
import type { Straightened } from "./least-squares-straight.ts";

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
  here: Straightened,
  free: readonly number[],
  norms: Float64Array,
  influence: Float64Array,
): boolean {
  let lost = false;
  for (const k of free) {
    norms[k] = Math.sqrt(here.square(k));
    lost ||= norms[k] < LOST * influence[k];
  }
  return lost;
}
