/** One least-squares fit over several pictures, from their single fits: Gauss–Newton on the normal equations, block by block. */
import { choleskyInverse } from "../numerics/small-cholesky.ts";
import type { FitParameter } from "./api.ts";
import type { ParameterName } from "./fit-parameters.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { fitPixels, fitScratch, type PixelFit } from "./pixel-fit.ts";

/** What a bench keeps from picture to picture. */
const COMMON: ReadonlySet<ParameterName> = new Set([
  "line 1",
  "line 2",
  "strength ratio",
  "plumb blur",
  "level blur",
  "level width",
  "slope",
  "bend",
  "roll",
  "smile",
]);

const MOST_ROUNDS = 12;
/** Fall of ½χ² that counts as nothing. */
const NOTHING = 1e-3;
/** Part of a step that is always taken. */
const LEAST_PART = 0.25;

export interface JointFit {
  /** the pictures with the joint fit's values and covariance in place of their own */
  readonly fitted: readonly FittedPicture[];
  readonly common: readonly FitParameter[];
  readonly reducedChiSquare: number;
  readonly converged: boolean;
}

/** Places of each picture's parameters in the joint vector; the common ones come first. */
interface Layout {
  readonly names: readonly ParameterName[];
  readonly places: readonly Int32Array[];
  readonly size: number;
}

export function fitTogether(single: readonly FittedPicture[]): JointFit {
  const layout = layoutOf(single);
  let p = startOf(single, layout);
  let state = linearised(single, layout, p);
  let converged = false;
  // The single fits stand next to the answer, and their noise is reckoned anew from each model, so that the cost itself is no measure of a step: whole steps,
  // or the part of them after which the slope along the last one would have been none. A bent valley (gradient against its change and bow) is else crossed to and fro.
  let part = 1;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const step = times(choleskyInverse(state.normal, layout.size), state.gradient, layout.size);
    const pull = product(step, state.gradient);
    converged = 0.5 * pull < NOTHING;
    if (converged) break;
    p = moved(
      single,
      layout,
      p,
      step.map((v) => v * part),
    );
    state = linearised(single, layout, p);
    const left = product(step, state.gradient);
    part = left < pull ? Math.min(1, Math.max(LEAST_PART, (part * pull) / (pull - left))) : 1;
  }
  const covariance = choleskyInverse(state.normal, layout.size);
  const freedom = Math.max(1, single.reduce((sum, { pixels }) => sum + pixels.length, 0) - layout.size);
  const chi = state.fits.reduce((sum, fit) => sum + fit.reducedChiSquare * fit.degreesOfFreedom, 0) / freedom;
  // One camera: the mean, since the largest of several is the one that chance made large.
  const shared =
    single.reduce((sum, { undeflected }) => sum + undeflected.noise.correlation, 0) / single.length;
  const inflation = Math.max(1, chi) * shared;
  return {
    fitted: single.map((fitted, k) => withJoint(fitted, state.fits[k], layout, k, covariance, converged)),
    common: layout.names.map((name, at) => {
      const term = single[0].terms.find((t) => t.name === name);
      return {
        name,
        unit: term?.unit ?? "1",
        value: p[at],
        standardUncertainty: Math.sqrt(Math.max(inflation * covariance[at * layout.size + at], 0)),
      };
    }),
    reducedChiSquare: chi,
    converged,
  };
}

function layoutOf(single: readonly FittedPicture[]): Layout {
  const names = single[0].terms.map((t) => t.name).filter((name) => COMMON.has(name));
  let size = names.length;
  const places = single.map(({ terms }) =>
    Int32Array.from(terms, ({ name }) => {
      const shared = names.indexOf(name);
      return shared >= 0 ? shared : size++;
    }),
  );
  return { names, places, size };
}

/** Own values of each picture; of the common ones the mean by the inverse variances of the single fits. */
function startOf(single: readonly FittedPicture[], { names, places, size }: Layout): Float64Array {
  const p = new Float64Array(size);
  const weights = new Float64Array(names.length);
  single.forEach(({ terms, fit }, k) => {
    const n = terms.length;
    terms.forEach(({ name }, t) => {
      const at = places[k][t];
      if (at >= names.length) {
        p[at] = fit.values[name];
        return;
      }
      const weight = 1 / Math.max(fit.solution.covariance[t * n + t], 1e-30);
      p[at] += weight * fit.values[name];
      weights[at] += weight;
    });
  });
  for (let at = 0; at < names.length; at++) p[at] /= weights[at];
  return p;
}

interface State {
  readonly fits: readonly PixelFit[];
  /** JᵀJ of all pictures and priors, size × size */
  readonly normal: Float64Array;
  /** −Jᵀr */
  readonly gradient: Float64Array;
}

/** Residuals and slopes of every picture at p, gathered in normal equations. What cold and lamp frames told is counted once. */
function linearised(single: readonly FittedPicture[], layout: Layout, p: Float64Array): State {
  const { size, places, names } = layout;
  const normal = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  const fits = single.map((fitted, k) => {
    const fit = looked(fitted, places[k], p);
    const { jacobian, residuals } = fit.solution;
    const n = fitted.terms.length;
    const m = residuals.length;
    for (let a = 0; a < n; a++) {
      const A = places[k][a];
      let pull = 0;
      for (let i = 0; i < m; i++) pull += jacobian[a * m + i] * residuals[i];
      gradient[A] -= pull;
      for (let b = 0; b <= a; b++) {
        let sum = 0;
        for (let i = 0; i < m; i++) sum += jacobian[a * m + i] * jacobian[b * m + i];
        const B = places[k][b];
        normal[A * size + B] += sum;
        if (A !== B) normal[B * size + A] += sum;
      }
    }
    fitted.terms.forEach(({ prior }, t) => {
      const at = places[k][t];
      if (prior === undefined || (at < names.length && k > 0)) return;
      normal[at * size + at] += 1 / prior.sigma ** 2;
      gradient[at] -= (p[at] - prior.value) / prior.sigma ** 2;
    });
    return fit;
  });
  return { fits, normal, gradient };
}

/** Model, residuals and slopes of one picture at the joint values, its priors left out. */
function looked(fitted: FittedPicture, places: Int32Array, p: Float64Array): PixelFit {
  const { hot, setting, fixed, slitWidth, undeflected, stored, pixels, terms, fit } = fitted;
  return fitPixels({
    frame: hot,
    setting,
    fixed: { ...fixed, ...fit.values },
    slitWidth,
    noise: undeflected.noise,
    stored,
    every: 1,
    scratch: fitScratch(hot.columns, hot.rows),
    pixels,
    loss: "squares",
    maxIterations: 0,
    fallTolerance: 0,
    terms: terms.map(({ prior: _prior, ...term }, t) => ({ ...term, start: p[places[t]] })),
  });
}

function moved(
  single: readonly FittedPicture[],
  { places }: Layout,
  p: Float64Array,
  step: Float64Array,
): Float64Array {
  const trial = p.map((v, i) => v + step[i]);
  single.forEach(({ terms }, k) => {
    terms.forEach((term, t) => {
      const at = places[k][t];
      trial[at] = Math.min(Math.max(trial[at], term.lower), term.upper);
    });
  });
  return trial;
}

function product(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, v, i) => sum + v * b[i], 0);
}

function times(matrix: Float64Array, vector: Float64Array, n: number): Float64Array {
  return vector.map((_, i) => {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += matrix[i * n + j] * vector[j];
    return sum;
  });
}

/** A picture's part of the joint fit, in the form of a single one. */
function withJoint(
  fitted: FittedPicture,
  fit: PixelFit,
  { places, size }: Layout,
  k: number,
  joint: Float64Array,
  converged: boolean,
): FittedPicture {
  const n = fitted.terms.length;
  const covariance = new Float64Array(n * n);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) covariance[b * n + a] = joint[places[k][a] * size + places[k][b]];
  const solution = { ...fit.solution, covariance, converged, stop: "cost" as const };
  return { ...fitted, fit: { ...fit, solution } };
}
