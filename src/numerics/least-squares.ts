/**
 * Nonlinear least squares: minimises ½ Σ ρ(r_i²) over bounded parameters by Levenberg–Marquardt, and gives the
 * covariance that the data support. For straight-line and polynomial problems use `linearLeastSquares`.
 */
import { pow } from "./elementary/index.ts";
import { lossOf } from "./least-squares-loss.ts";
import type { LeastSquaresProblem } from "./least-squares-problem.ts";
import { inverseGram } from "./least-squares-qr.ts";
import { columnNorms, dampedStep, predictedFall } from "./least-squares-step.ts";
import { type Straightened, straightened } from "./least-squares-straight.ts";

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
  /**
   * Jacobian of the plain residuals, column-major m × n, which `covariance` belongs to: at the solution, or before its last step
   * where `fallTolerance` needed no more slopes; empty where the problem does not want it
   */
  readonly jacobian: Float64Array;
  /** true where a bound holds the parameter */
  readonly atBound: readonly boolean[];
  readonly iterations: number;
  /** fall of the cost that the slopes promised when they were looked at last; 0 where they never were */
  readonly promised: number;
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
  const scaling = new Float64Array(n);
  const rho = lossOf(problem.loss ?? "squares", problem.lossScale ?? 1.5);
  const here = straightened(problem, rho, (at, residuals, out) =>
    fillJacobian(problem, at, residuals, out, bounds),
  );
  problem.residuals(p, r);
  let cost = rho.cost(r);
  if (!Number.isFinite(cost)) throw new Error("least squares started where the residuals are not finite");
  let damping = problem.damping ?? 1e-3;
  let growth = 2;
  let stop: LeastSquaresStop = "iterations";
  let iterations = 0;
  /** true where `here` is the solution */
  let fresh = false;
  /** the triangle that goes with the solution, where it is known already */
  let last: Triangle | undefined;
  /** what the slopes promised at the point before, and at the last */
  let promisedBefore = 0;
  let promised = 0;
  const fallTolerance = problem.fallTolerance ?? 0;
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
    here.at(p, r);
    findHeld(held, p, here, bounds);
    const free = freeColumns(held);
    if (free.length === 0 || gradientVanishes(here, free, cost)) {
      stop = "gradient";
      fresh = true;
      break;
    }
    if (columnNorms(here, free, norms, influence) && returns < MOST_RETURNS) {
      // The last step took a parameter to where it has no influence: back, and shorter.
      returns++;
      p.set(before);
      problem.residuals(p, r);
      cost = rho.cost(r);
      damping = Math.max(damping, lastDamping) * 10;
      lastDamping = damping;
      promisedBefore = 0;
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
    const qr = here.triangle(free);
    promised = halfSquares(qr.rhs);
    if (promised <= fallTolerance) {
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
      const predicted = predictedFall(qr.upper, qr.rhs, free, p, trial);
      if (problem.bend !== undefined) {
        problem.bend(p, trial);
        clamp(trial, bounds);
      }
      problem.residuals(trial, trialR);
      const trialCost = rho.cost(trialR);
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
        else if (restIsNothing({ promised, promisedBefore, predicted, fall }, fallTolerance)) {
          stop = "cost";
          last = { free, upper: qr.upper };
        }
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
    promisedBefore = promised;
  }
  if (!fresh && last === undefined) here.at(p, r);
  last ??= triangleAt(here, p, bounds);
  return {
    parameters: p,
    cost,
    residuals: r,
    covariance: covarianceOf(last, n),
    jacobian: problem.wantsJacobian === false ? new Float64Array() : here.jacobian(),
    atBound: Array.from({ length: n }, (_, k) => !last.free.includes(k)),
    iterations,
    promised,
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

/** A parameter on its bound is held while the gradient pushes it outward. */
function findHeld(held: Uint8Array, p: Float64Array, here: Straightened, bounds: Bounds): void {
  for (let k = 0; k < p.length; k++) {
    held[k] = 0;
    if (p[k] > bounds.lower[k] && p[k] < bounds.upper[k]) continue;
    const gradient = here.gradient(k);
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
function gradientVanishes(here: Straightened, free: readonly number[], cost: number): boolean {
  return (
    cost === 0 ||
    free.every((k) => Math.abs(here.gradient(k)) <= 1e-13 * Math.sqrt(2 * cost * here.square(k)))
  );
}

/** A step's gain may differ from what was predicted by this share of it and still count as foreseen. */
const FORESEEN = 0.25;

/**
 * True where the next slopes need not be drawn: the step did what it promised, and what the damping kept back of it together
 * with what the next one may be expected to promise is nothing.
 */
function restIsNothing(
  {
    promised,
    promisedBefore,
    predicted,
    fall,
  }: { promised: number; promisedBefore: number; predicted: number; fall: number },
  tolerance: number,
): boolean {
  if (!(promised < promisedBefore) || Math.abs(fall - predicted) > FORESEEN * predicted) return false;
  return promised - predicted + (promised * promised) / promisedBefore <= tolerance;
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

function triangleAt(here: Straightened, p: Float64Array, bounds: Bounds): Triangle {
  const held = new Uint8Array(p.length);
  findHeld(held, p, here, bounds);
  const free = freeColumns(held);
  return { free, upper: free.length > 0 ? here.triangle(free).upper : new Float64Array() };
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
