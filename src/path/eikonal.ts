/** Rays through a medium whose index varies from place to place: d/ds(n dr/ds) = ∇n, step by step with its error under control. */
import { hypot, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";

/** A transparent medium with a smooth index. */
export interface IndexMedium {
  /**
   * n² − 1 and ½∇(n²) = n∇n at a place.
   * @param at x, y, z in m, from index 0
   * @param slope ½∂(n²)/∂x, /∂y, /∂z in 1/m, written from index 0
   * @returns n² − 1, kept apart from 1 so that a gas of 1e-6 loses no digits
   */
  excess(at: Float64Array, slope: Float64Array): number;
}

export interface RayOptions {
  /** where the ray ends: the first place with inside(x, y, z) ≤ 0; positive inside, smooth near the border */
  inside(x: number, y: number, z: number): number;
  /** error allowed per step: of place, m, and of direction, rad; default 1e-10 and 1e-11 */
  readonly placeError?: number;
  readonly directionError?: number;
  /** longest step, m; default 1e-2 */
  readonly longestStep?: number;
  /** called at the start and after each step, e.g. to draw the ray */
  onStep?(state: Float64Array): void;
}

export interface RayEnd {
  /** place of the end, m */
  readonly place: Float64Array;
  /** unit direction there */
  readonly direction: Float64Array;
  readonly steps: number;
}

const MOST_STEPS = 100_000;

/**
 * Follows a ray to the border.
 *
 * With dt = ds/n the ray obeys d²r/dt² = ½∇(n²) (Sharma, Kumar & Ghatak 1982), here as a first-order system in r and T = n dr/ds, by the
 * embedded Runge–Kutta pair of order 5(4) of Dormand & Prince (1980); the last step is cut to end on the border to the place error.
 * @param start place, m, inside; direction, any length
 * @throws Refusal where the ray does not leave within 100 000 steps (a medium that traps it)
 */
export function traceRay(
  medium: IndexMedium,
  start: { readonly place: ArrayLike<number>; readonly direction: ArrayLike<number> },
  options: RayOptions,
): RayEnd {
  const placeError = options.placeError ?? 1e-10;
  const directionError = options.directionError ?? 1e-11;
  const longest = options.longestStep ?? 1e-2;
  const y = new Float64Array(6);
  const slope = new Float64Array(3);
  y.set(Array.from(start.place).slice(0, 3));
  const n = Math.sqrt(1 + medium.excess(y, slope));
  const length = hypot(start.direction[0], start.direction[1], start.direction[2]);
  for (let i = 0; i < 3; i++) y[3 + i] = (n * start.direction[i]) / length;
  const next = new Float64Array(6);
  const work = new Stages(medium);
  let h = longest / 16;
  let steps = 0;
  options.onStep?.(y);
  while (steps < MOST_STEPS) {
    const error = work.step(y, h, next, placeError, directionError);
    if (error > 1 || Number.isNaN(error)) {
      h *= Number.isNaN(error) ? 0.2 : Math.max(0.2, 0.9 * pow(error, -0.2));
      continue;
    }
    steps++;
    if (options.inside(next[0], next[1], next[2]) <= 0) {
      // Shorten the step until it ends on the border.
      let low = 0;
      let high = h;
      while (high - low > placeError) {
        const middle = (low + high) / 2;
        work.step(y, middle, next, placeError, directionError);
        if (options.inside(next[0], next[1], next[2]) > 0) low = middle;
        else high = middle;
      }
      work.step(y, high, next, placeError, directionError);
      options.onStep?.(next);
      return ended(next, steps);
    }
    y.set(next);
    options.onStep?.(y);
    h = Math.min(longest, h * Math.min(4, 0.9 * pow(error + 1e-12, -0.2)));
  }
  throw new Refusal({
    code: "ray-trapped",
    field: "ray",
    received: `a ray still inside after ${MOST_STEPS} steps`,
    expected: "a medium that lets its rays out",
  });
}

function ended(state: Float64Array, steps: number): RayEnd {
  const length = hypot(state[3], state[4], state[5]);
  return { place: state.slice(0, 3), direction: state.slice(3).map((v) => v / length), steps };
}

/** Dormand–Prince coefficients: nodes implied (the system does not depend on t). */
const A = [
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
/** Fifth order less fourth. */
const E = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];

/** One step and its error, with its own scratch. */
class Stages {
  readonly #k = Array.from({ length: 7 }, () => new Float64Array(6));
  readonly #at = new Float64Array(6);
  readonly #slope = new Float64Array(3);
  readonly #medium: IndexMedium;

  constructor(medium: IndexMedium) {
    this.#medium = medium;
  }

  #rate(state: Float64Array, out: Float64Array): void {
    this.#medium.excess(state, this.#slope);
    for (let i = 0; i < 3; i++) {
      out[i] = state[3 + i];
      out[3 + i] = this.#slope[i];
    }
  }

  /** Writes the state after a step h to `next`; returns the error over what is allowed (≤ 1 is good). */
  step(y: Float64Array, h: number, next: Float64Array, placeError: number, directionError: number): number {
    const k = this.#k;
    this.#rate(y, k[0]);
    for (let s = 0; s < 6; s++) {
      const a = A[s];
      const target = s === 5 ? next : this.#at;
      for (let i = 0; i < 6; i++) {
        let sum = 0;
        for (let j = 0; j <= s; j++) sum += a[j] * k[j][i];
        target[i] = y[i] + h * sum;
      }
      this.#rate(target, k[s + 1]);
    }
    let worst = 0;
    for (let i = 0; i < 6; i++) {
      let sum = 0;
      for (let j = 0; j < 7; j++) sum += E[j] * k[j][i];
      worst = Math.max(worst, Math.abs(h * sum) / (i < 3 ? placeError : directionError));
    }
    return worst;
  }
}
