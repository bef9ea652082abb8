/**
 * Nonlinear least squares: minimises ½ Σ ρ(r_i²) over bounded parameters by Levenberg–Marquardt, and gives the
 * covariance that the data support. For straight-line and polynomial problems use `linearLeastSquares`.
 */
import { pow } from "./elementary/index.ts";
import { type LossKernel, lossOf } from "./least-squares-loss.ts";
import type { AddGram, LeastSquaresProblem } from "./least-squares-problem.ts";
import { inverseGram } from "./least-squares-qr.ts";
import { columnNorms, dampedStep, predictedFall, triangleOf } from "./least-squares-step.ts";

export type { LeastSquaresProblem } from "./least-squares-problem.ts";

export type LeastSquaresStop = "cost" | "step" | "gradient" | "iterations" | "stalled";

export interface LeastSquaresSolution {
  readonly parameters: Float64Array;
  /** ½ Σ ρ(r²) at the solution */
  readonly cost: number;
  /** plain residuals at the solution, length m */
  readonly residuals: Float64Array;
  /** (JᵀWJ)⁻¹, column-major n × n, for residuals of unit variance; parameters held by a bound have zero rows */
  readonly covariance: Float64Array;
  /** Jacobian of the plain residuals at the solution, column-major m × n */
  readonly jacobian: Float64Array;
  /** true where a bound holds the parameter */
  readonly atBound: readonly boolean[];
  readonly iterations: number;
  readonly stop: LeastSquaresStop;
  /** false only for "iterations" and "stalled" */
  readonly converged: boolean;
}

/** Share of a column's norm that is kept from step to step in its scale. */
const MEMORY = 0.8;
/** How often a step is taken back after which a parameter has lost its influence. */
const MOST_RETURNS = 40;

/**
 * Levenberg–Marquardt with Marquardt's diagonal scaling, QR of the Jacobian, bounds by an active set, robust losses by
 * reweighting. Accuracy: NIST StRD problems to ≥ 6 digits (test/outside/nist-strd.test.ts).
 * Source: Moré, "The Levenberg–Marquardt algorithm: implementation and theory" (1978); gain ratio after Nielsen (1999);
 * both from memory.
 */
export function leastSquares(problem: LeastSquaresProblem): LeastSquaresSolution {
  const n = problem.start.length;
  const m = problem.residualCount;
  const bounds = readBounds(problem, n);
  const p = Float64Array.from(problem.start);
  clamp(p, bounds);
  let r = new Float64Array(m);
  let trialR = new Float64Array(m);
  const jac = new Float64Array(m * n);
  const weighted = problem.loss === undefined || problem.loss === "squares" ? null : new Float64Array(m * n);
  const rhs = new Float64Array(m);
  const scaling = new Float64Array(n);
  const rho = lossOf(problem.loss ?? "squares", problem.lossScale ?? 1.5);
  problem.residuals(p, r);
  let cost = rho.cost(r);
  if (!Number.isFinite(cost)) throw new Error("least squares started where the residuals are not finite");
  let damping = 1e-3;
  let growth = 2;
  let stop: LeastSquaresStop = "iterations";
  let iterations = 0;
  /** true where `jac` belongs to the solution */
  let fresh = false;
  /** the triangle at the solution, where it is known already; `jac` then belongs to it */
  let last: Triangle | undefined;
  const limit = problem.maxIterations ?? 100;
  const costTolerance = problem.costTolerance ?? 1e-14;
  const held = new Uint8Array(n);
  const norms = new Float64Array(n);
  /** the norms at the last point that was kept, which the next may not fall far below */
  const influence = new Float64Array(n);
  const before = p.slice();
  let lastDamping = damping;
  let returns = 0;
  while (iterations < limit) {
    iterations++;
    fillJacobian(problem, p, r, jac, bounds);
    const work = weigh(jac, r, weighted, rhs, rho, m, n);
    findHeld(held, p, work, rhs, bounds, m, n);
    const free = freeColumns(held);
    if (free.length === 0 || gradientVanishes(work, rhs, free, m, cost)) {
      stop = "gradient";
      fresh = true;
      break;
    }
    if (columnNorms(work, free, m, norms, influence) && returns < MOST_RETURNS) {
      // The last step took a parameter to where it has no influence: back, and shorter.
      returns++;
      p.set(before);
      problem.residuals(p, r);
      cost = rho.cost(r);
      damping = Math.max(damping, lastDamping) * 10;
      lastDamping = damping;
      influence.fill(0);
      continue;
    }
    for (const k of free) {
      influence[k] = norms[k];
      // Old norms fade: MGH10 from its far start needs steps that grow again, MGH17 ones that do not leap.
      scaling[k] = Math.max(MEMORY * scaling[k], norms[k]) || 1;
    }
    before.set(p);
    lastDamping = damping;
    const qr = triangleOf(work, rhs, free, m, n, problem.addGram);
    if (halfSquares(qr.rhs) <= (problem.fallTolerance ?? 0)) {
      stop = "cost";
      last = { free, upper: qr.upper };
      break;
    }
    let accepted = false;
    for (let attempt = 0; attempt < 40; attempt++) {
      const step = dampedStep(qr.upper, qr.rhs, free, scaling, damping);
      const trial = p.slice();
      for (let k = 0; k < free.length; k++) trial[free[k]] -= step[k];
      clamp(trial, bounds);
      problem.residuals(trial, trialR);
      const trialCost = rho.cost(trialR);
      const predicted = predictedFall(qr.upper, qr.rhs, free, p, trial);
      const fall = cost - trialCost;
      if (Number.isFinite(trialCost) && fall >= 0 && (predicted > 0 || fall > 0)) {
        const gain = predicted > 0 ? fall / predicted : 1;
        damping *= Math.max(1 / 5, 1 - pow(2 * gain - 1, 3));
        damping = Math.max(damping, 1e-16);
        growth = 2;
        const small = relativeStep(p, trial, problem) < (problem.stepTolerance ?? 1e-12);
        const flat =
          fall <= costTolerance * cost && predicted <= Math.min(1e-12, 100 * costTolerance) * cost + 1e-300;
        p.set(trial);
        [r, trialR] = [trialR, r];
        cost = trialCost;
        accepted = true;
        if (small) stop = "step";
        else if (flat) stop = "cost";
        break;
      }
      if (relativeStep(p, trial, problem) < 1e-15) {
        stop = "step";
        break;
      }
      damping *= growth;
      growth *= 2;
    }
    if (stop !== "iterations") break;
    if (!accepted) {
      stop = "stalled";
      break;
    }
  }
  if (!fresh && last === undefined) fillJacobian(problem, p, r, jac, bounds);
  last ??= triangleAt(jac, weighted, p, r, bounds, rho, problem.addGram);
  return {
    parameters: p,
    cost,
    residuals: r,
    covariance: covarianceOf(last, n),
    jacobian: jac,
    atBound: Array.from({ length: n }, (_, k) => !last.free.includes(k)),
    iterations,
    stop,
    converged: stop !== "iterations" && stop !== "stalled",
  };
}

/** Triangle of the weighted Jacobian's free columns. */
interface Triangle {
  readonly free: readonly number[];
  readonly upper: Float64Array;
}

interface Bounds {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

function readBounds(problem: LeastSquaresProblem, n: number): Bounds {
  const lower = new Float64Array(n).fill(Number.NEGATIVE_INFINITY);
  const upper = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  if (problem.lower) lower.set(problem.lower);
  if (problem.upper) upper.set(problem.upper);
  return { lower, upper };
}

function clamp(p: Float64Array, bounds: Bounds): void {
  for (let k = 0; k < p.length; k++) p[k] = Math.min(Math.max(p[k], bounds.lower[k]), bounds.upper[k]);
}

/** Size that difference steps and the step test are measured against. */
function typicalOf(problem: LeastSquaresProblem, k: number): number {
  return problem.typical?.[k] ?? (Math.abs(problem.start[k]) > 0 ? Math.abs(problem.start[k]) : 1);
}

function fillJacobian(
  problem: LeastSquaresProblem,
  p: Float64Array,
  r: Float64Array,
  out: Float64Array,
  bounds: Bounds,
): void {
  if (problem.jacobian) {
    problem.jacobian(p, r, out);
    return;
  }
  const m = r.length;
  const shifted = p.slice();
  const ahead = new Float64Array(m);
  const behind = new Float64Array(m);
  for (let k = 0; k < p.length; k++) {
    const h = 6e-6 * Math.max(Math.abs(p[k]), 1e-3 * typicalOf(problem, k));
    const up = Math.min(p[k] + h, bounds.upper[k]);
    const down = Math.max(p[k] - h, bounds.lower[k]);
    shifted[k] = up;
    problem.residuals(shifted, ahead);
    shifted[k] = down;
    problem.residuals(shifted, behind);
    shifted[k] = p[k];
    const inverse = up > down ? 1 / (up - down) : 0;
    for (let i = 0; i < m; i++) out[k * m + i] = (ahead[i] - behind[i]) * inverse;
  }
}

/** Weighted Jacobian and residuals; plain squares need no copy of the Jacobian. */
function weigh(
  jac: Float64Array,
  r: Float64Array,
  weighted: Float64Array | null,
  rhs: Float64Array,
  rho: LossKernel,
  m: number,
  n: number,
): Float64Array {
  if (weighted === null) {
    rhs.set(r);
    return jac;
  }
  const weights = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    weights[i] = rho.rootWeight(r[i]);
    rhs[i] = weights[i] * r[i];
  }
  for (let k = 0; k < n; k++) for (let i = 0; i < m; i++) weighted[k * m + i] = weights[i] * jac[k * m + i];
  return weighted;
}

/** A parameter on its bound is held while the gradient pushes it outward. */
function findHeld(
  held: Uint8Array,
  p: Float64Array,
  work: Float64Array,
  rhs: Float64Array,
  bounds: Bounds,
  m: number,
  n: number,
): void {
  for (let k = 0; k < n; k++) {
    held[k] = 0;
    if (p[k] > bounds.lower[k] && p[k] < bounds.upper[k]) continue;
    let gradient = 0;
    for (let i = 0; i < m; i++) gradient += work[k * m + i] * rhs[i];
    const low = p[k] <= bounds.lower[k] && gradient > 0;
    const high = p[k] >= bounds.upper[k] && gradient < 0;
    held[k] = low || high || bounds.lower[k] === bounds.upper[k] ? 1 : 0;
  }
}

function freeColumns(held: Uint8Array): number[] {
  const free: number[] = [];
  for (let k = 0; k < held.length; k++) if (held[k] === 0) free.push(k);
  return free;
}

/** Cosine between the residuals and every column below 1e-13: nothing left to gain. */
function gradientVanishes(
  work: Float64Array,
  rhs: Float64Array,
  free: readonly number[],
  m: number,
  cost: number,
): boolean {
  if (cost === 0) return true;
  for (const k of free) {
    let dot = 0;
    let norm = 0;
    for (let i = 0; i < m; i++) {
      dot += work[k * m + i] * rhs[i];
      norm += work[k * m + i] * work[k * m + i];
    }
    if (Math.abs(dot) > 1e-13 * Math.sqrt(2 * cost * norm)) return false;
  }
  return true;
}

function halfSquares(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return 0.5 * sum;
}

function relativeStep(from: Float64Array, to: Float64Array, problem: LeastSquaresProblem): number {
  let worst = 0;
  for (let k = 0; k < from.length; k++) {
    const size = Math.max(Math.abs(from[k]), 1e-6 * typicalOf(problem, k));
    worst = Math.max(worst, Math.abs(to[k] - from[k]) / size);
  }
  return worst;
}

function triangleAt(
  jac: Float64Array,
  weighted: Float64Array | null,
  p: Float64Array,
  r: Float64Array,
  bounds: Bounds,
  rho: LossKernel,
  addGram: AddGram | undefined,
): Triangle {
  const n = p.length;
  const m = r.length;
  const rhs = new Float64Array(m);
  const held = new Uint8Array(n);
  const work = weigh(jac, r, weighted, rhs, rho, m, n);
  findHeld(held, p, work, rhs, bounds, m, n);
  const free = freeColumns(held);
  return {
    free,
    upper: free.length > 0 ? triangleOf(work, rhs, free, m, n, addGram).upper : new Float64Array(),
  };
}

/** (JᵀWJ)⁻¹ with zeros for what is held. */
function covarianceOf({ free, upper }: Triangle, n: number): Float64Array {
  const covariance = new Float64Array(n * n);
  if (free.length === 0) return covariance;
  const small = inverseGram(upper, free.length);
  for (let a = 0; a < free.length; a++)
    for (let b = 0; b < free.length; b++) covariance[free[b] * n + free[a]] = small[b * free.length + a];
  return covariance;
}
