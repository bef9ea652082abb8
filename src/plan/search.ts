/**
 * Best points of a costly function in the unit cube, under limits, for one wish or a trade-off of several: a few points
 * that fill the cube, then one after another where a surface through all that is known promises most.
 */
import { r2Point } from "./low-discrepancy.ts";
import { fitSurrogate, type Surrogate } from "./surrogate.ts";

/** What is known of one point. */
export interface Tried {
  readonly x: Float64Array;
  /** to be made small, one per wish; undefined where the function has no answer */
  readonly wishes: readonly number[] | undefined;
  /** each ≤ 0 where the limit is kept */
  readonly limits: readonly number[];
}

export interface SearchOptions {
  readonly dimensions: number;
  /** number of wishes, ≥ 1 */
  readonly wishes: number;
  /** most evaluations */
  readonly budget: number;
  /** a point to begin with, e.g. the setup as it stands */
  readonly start?: Float64Array;
}

export type Evaluate = (x: Float64Array) => Pick<Tried, "wishes" | "limits">;

/** Candidates looked at on the surface in each step, and moves of the refinement that follows. */
const CANDIDATES = 400;
const REFINEMENTS = 120;
/** Points closer than this, in units of the cube, are taken for the same. */
const SAME = 2e-4;

/** Every point tried, in order; deterministic. */
export function search(evaluate: Evaluate, options: SearchOptions): Tried[] {
  const { dimensions, budget } = options;
  const tried: Tried[] = [];
  const attempt = (x: Float64Array): Tried => {
    const point = { x, ...evaluate(x) };
    tried.push(point);
    return point;
  };
  const first = Math.min(budget, 2 * dimensions + 2);
  if (options.start !== undefined) attempt(options.start);
  for (let i = 0; tried.length < first; i++) attempt(spread(i, dimensions));
  const directions = weights(options.wishes);
  let settled = 0;
  for (let step = 0; tried.length < budget; step++) {
    // Every fifth step looks where nothing is known yet; the others go where the surface promises most.
    const explore =
      step % 5 === 4 || tried.filter((each) => each.wishes !== undefined).length < dimensions + 2;
    const weight = directions[step % directions.length];
    const before = bestMerit(tried, weight);
    const x = explore ? farthest(tried, dimensions, step) : promising(tried, weight, dimensions, step);
    if (x === undefined) break;
    attempt(x);
    if (explore) continue;
    settled = before - bestMerit(tried, weight) < 5e-4 ? settled + 1 : 0;
    if (settled >= 3 * directions.length + dimensions) break;
  }
  return tried;
}

/** Points that fill the cube and reach near its faces. */
function spread(i: number, dimensions: number): Float64Array {
  return r2Point(i, dimensions).map((u) => Math.min(1, Math.max(0, 0.5 + 1.06 * (u - 0.5))));
}

/** Directions of the trade-off: each wish alone, all alike, and between. */
function weights(wishes: number): readonly (readonly number[])[] {
  if (wishes === 1) return [[1]];
  const alone = Array.from({ length: wishes }, (_, k) =>
    Array.from({ length: wishes }, (_, j) => (j === k ? 1 : 0.02)),
  );
  const leaning = alone.map((_, k) => Array.from({ length: wishes }, (_, j) => (j === k ? 1 : 0.35)));
  return [...alone, Array.from({ length: wishes }, () => 1), ...leaning];
}

interface Scale {
  readonly ideal: readonly number[];
  readonly range: readonly number[];
}

const BEYOND = 0.3;

function scaleOf(tried: readonly Tried[]): Scale {
  const known = tried.flatMap((each) => (each.wishes === undefined ? [] : [each]));
  const kept = known.filter((each) => each.limits.every((limit) => limit <= 0));
  const pool = kept.length > 1 ? kept : known;
  const count = known[0]?.wishes?.length ?? 0;
  const column = (k: number): number[] => pool.map((each) => each.wishes?.[k] ?? 0);
  const range = Array.from({ length: count }, (_, k) =>
    Math.max(1e-9, Math.max(...column(k)) - Math.min(...column(k))),
  );
  // Beyond what is known, so that doing better still counts.
  return { ideal: range.map((size, k) => Math.min(...column(k)) - BEYOND * size), range };
}

/** Weighted Chebyshev distance from the ideal, with a little of the sum so that no wish is given away for nothing. */
function towards(wishes: readonly number[], weight: readonly number[], scale: Scale): number {
  if (wishes.length === 1) return wishes[0];
  const parts = wishes.map((w, k) => (weight[k] * (w - scale.ideal[k])) / scale.range[k]);
  return Math.max(...parts) + 0.02 * parts.reduce((sum, part) => sum + part, 0);
}

const excess = (limits: readonly number[]): number =>
  limits.reduce((sum, limit) => sum + Math.max(0, limit), 0);

/** Merit of the best point so far: kept limits first, then the wish. */
function bestMerit(tried: readonly Tried[], weight: readonly number[]): number {
  const scale = scaleOf(tried);
  let best = Infinity;
  for (const { wishes, limits } of tried) {
    if (wishes === undefined) continue;
    const over = excess(limits);
    best = Math.min(best, over > 0 ? 1e3 + over : towards(wishes, weight, scale));
  }
  return best;
}

/** Where the surface promises most for this weight of the wishes. */
function promising(
  tried: readonly Tried[],
  weight: readonly number[],
  dimensions: number,
  step: number,
): Float64Array | undefined {
  const known = tried.flatMap((each) =>
    each.wishes === undefined ? [] : [{ ...each, wishes: each.wishes }],
  );
  const count = known[0].wishes.length;
  const scale = scaleOf(tried);
  const limitCount = known[0].limits.length;
  const surface = fitSurrogate(
    known.map((each) => each.x),
    [
      ...Array.from({ length: count }, (_, k) => known.map((each) => each.wishes[k])),
      ...Array.from({ length: limitCount }, (_, k) => known.map((each) => each.limits[k])),
    ],
  );
  const dead = tried.filter((each) => each.wishes === undefined).map((each) => each.x);
  const merit = (x: Float64Array): number => {
    if (nearest(x, tried) < SAME) return Infinity;
    // Near a point without an answer, unless a point with one is nearer still.
    if (
      dead.length > 0 &&
      distanceTo(x, dead) <
        distanceTo(
          x,
          known.map((each) => each.x),
        )
    )
      return Infinity;
    return meritOn(surface, x, weight, scale, count, limitCount);
  };
  let best: Float64Array | undefined;
  let value = Infinity;
  const consider = (x: Float64Array): void => {
    const m = merit(x);
    if (m < value) {
      value = m;
      best = x;
    }
  };
  for (let i = 0; i < CANDIDATES; i++) consider(spread(step * CANDIDATES + i, dimensions));
  const good = [...known].sort((a, b) => rank(a, weight, scale) - rank(b, weight, scale)).slice(0, 2);
  for (const each of good)
    for (let i = 0; i < 60; i++) consider(around(each.x, 0.12 * 0.5 ** Math.floor(i / 12), step * 60 + i));
  for (let i = 0; i < REFINEMENTS && best !== undefined; i++)
    consider(around(best, 0.05 * 0.5 ** Math.floor(i / 15), step * REFINEMENTS + i));
  return best;
}

function rank(each: Tried, weight: readonly number[], scale: Scale): number {
  const over = excess(each.limits);
  return over > 0 ? 1e3 + over : towards(each.wishes ?? [], weight, scale);
}

/** Steep wall where a limit is broken; a hair inside it, so that the forecast itself keeps the limit. */
function meritOn(
  surface: Surrogate,
  x: Float64Array,
  weight: readonly number[],
  scale: Scale,
  count: number,
  limitCount: number,
): number {
  const wishes = Array.from({ length: count }, (_, k) => surface.value(x, k));
  let over = 0;
  for (let k = 0; k < limitCount; k++) over += Math.max(0, surface.value(x, count + k) + MARGIN);
  return over > 0 ? 1e3 + over : towards(wishes, weight, scale);
}

const MARGIN = 1e-3;

/** A point at most `size` away along each axis, inside the cube; even steps, no chance. */
function around(x: Float64Array, size: number, i: number): Float64Array {
  const u = r2Point(i + 1, x.length);
  return x.map((at, c) => Math.min(1, Math.max(0, at + size * (2 * u[c] - 1))));
}

function farthest(tried: readonly Tried[], dimensions: number, step: number): Float64Array {
  let best = spread(tried.length, dimensions);
  for (let i = 0; i < CANDIDATES; i++) {
    const x = spread(step * CANDIDATES + i, dimensions);
    if (nearest(x, tried) > nearest(best, tried)) best = x;
  }
  return best;
}

function nearest(x: Float64Array, tried: readonly Tried[]): number {
  return distanceTo(
    x,
    tried.map((each) => each.x),
  );
}

function distanceTo(x: Float64Array, points: readonly Float64Array[]): number {
  let least = Infinity;
  for (const y of points) {
    let square = 0;
    for (let c = 0; c < x.length; c++) square += (x[c] - y[c]) ** 2;
    least = Math.min(least, square);
  }
  return Math.sqrt(least);
}

/** Points that keep all limits and that no other beats in every wish, each once. */
export function tradeOff(tried: readonly Tried[]): Tried[] {
  const kept = tried.filter((each) => each.wishes !== undefined && each.limits.every((limit) => limit <= 0));
  const beats = (a: readonly number[], b: readonly number[]): boolean =>
    a.every((v, k) => v <= b[k]) && a.some((v, k) => v < b[k]);
  return kept.filter(
    (each) =>
      !kept.some(
        (other) =>
          other.wishes !== undefined && each.wishes !== undefined && beats(other.wishes, each.wishes),
      ),
  );
}
