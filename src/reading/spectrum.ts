/** The light's spectrum along the columns, smoothed only as far as the data allow. */
import { type LinearFit, linearLeastSquares } from "../numerics/linear-least-squares.ts";

const HIGHEST_ORDER = 8;

/** Light per column and how far it is wrong by noise alone. */
export interface SmoothSpectrum {
  readonly light: Float64Array<ArrayBuffer>;
  readonly errors: SpectrumErrors;
}

/** The ways in which a smoothed spectrum may be off: the sum of shapes with amplitudes of this covariance. */
export interface SpectrumErrors {
  readonly shapes: readonly ErrorShape[];
  /** of the amplitudes, column-major; null: independent, each of standard deviation 1 */
  readonly covariance: Float64Array | null;
}

/** Light of columns `from`, `from` + 1, …; none elsewhere. */
interface ErrorShape {
  readonly from: number;
  readonly light: Float64Array;
}

/** Of a spectrum that is taken as it is. */
export const NO_ERRORS: SpectrumErrors = { shapes: [], covariance: null };

/**
 * Smooths column amplitudes: the Legendre polynomial of the order that the Bayes criterion picks; where even the best
 * leaves structure (χ² per value above 1.5, as with a lamp that has lines), a running parabola over 15 columns instead.
 * @param amplitudes values and standard deviations per column; infinite deviation marks an unknown column
 */
export function smoothSpectrum(amplitudes: { value: Float64Array; sigma: Float64Array }): SmoothSpectrum {
  const n = amplitudes.value.length;
  const known: number[] = [];
  for (let c = 0; c < n; c++) if (Number.isFinite(amplitudes.sigma[c])) known.push(c);
  if (known.length < 4) return { light: new Float64Array(n), errors: NO_ERRORS };
  const values = Float64Array.from(known, (c) => amplitudes.value[c]);
  const sigma = Float64Array.from(known, (c) => amplitudes.sigma[c]);
  const all = legendreColumns(
    Float64Array.from(known, (c) => (2 * c) / (n - 1) - 1),
    HIGHEST_ORDER,
  );
  let best: { score: number; fit: LinearFit } | null = null;
  for (let order = 0; order <= Math.min(HIGHEST_ORDER, known.length - 2); order++) {
    const fit = linearLeastSquares(all.slice(0, order + 1), values, sigma);
    const score = fit.chiSquare + (order + 1) * Math.log(known.length);
    if (best === null || score < best.score) best = { score, fit };
  }
  if (best !== null && best.fit.chiSquare / known.length < 1.5) {
    const { parameters, covariance } = best.fit;
    const basis = legendreColumns(
      Float64Array.from({ length: n }, (_, c) => (2 * c) / (n - 1) - 1),
      HIGHEST_ORDER,
    );
    const out = new Float64Array(n);
    parameters.forEach((a, k) => {
      for (let c = 0; c < n; c++) out[c] += a * basis[k][c];
    });
    const shapes = basis.slice(0, parameters.length).map((light) => ({ from: 0, light }));
    return { light: out, errors: { shapes, covariance } };
  }
  return runningParabola(amplitudes, 7);
}

function legendreColumns(x: Float64Array, order: number): Float64Array[] {
  const columns = [new Float64Array(x.length).fill(1), x.slice()];
  for (let k = 2; k <= order; k++) {
    const a = columns[k - 1];
    const b = columns[k - 2];
    columns.push(Float64Array.from(x, (t, i) => ((2 * k - 1) * t * a[i] - (k - 1) * b[i]) / k));
  }
  return columns;
}

function runningParabola(
  { value, sigma }: { readonly value: Float64Array; readonly sigma: Float64Array },
  reach: number,
): SmoothSpectrum {
  const n = value.length;
  const out = new Float64Array(n);
  // What each column's amplitude does to its neighbours.
  const shapes = Array.from({ length: n }, (_, i) => {
    const from = Math.max(0, i - 2 * reach);
    return { from, light: new Float64Array(Math.min(n, i + 2 * reach + 1) - from) };
  });
  for (let c = 0; c < n; c++) {
    const from = Math.max(0, Math.min(c - reach, n - 1 - 2 * reach));
    const to = Math.min(n - 1, from + 2 * reach);
    let places = 0;
    let first = -1;
    let [s0, s1, s2, s3, s4] = [0, 0, 0, 0, 0];
    for (let i = from; i <= to; i++) {
      if (!Number.isFinite(sigma[i])) continue;
      if (places++ === 0) first = i;
      const x = (i - c) / reach;
      const w = 1 / (sigma[i] * sigma[i]);
      const wxx = w * x * x;
      s0 += w;
      s1 += w * x;
      s2 += wxx;
      s3 += wxx * x;
      s4 += wxx * x * x;
    }
    const add = (i: number, weight: number): void => {
      out[c] += weight * value[i];
      shapes[i].light[c - shapes[i].from] += weight * sigma[i];
    };
    if (places < 4) {
      if (first >= 0) add(first, 1);
      continue;
    }
    // The parabola's value at x = 0, by Cramer's rule.
    const a = s2 * s4 - s3 * s3;
    const b = s1 * s4 - s2 * s3;
    const d = s1 * s3 - s2 * s2;
    const determinant = s0 * a - s1 * b + s2 * d;
    for (let i = from; i <= to; i++) {
      if (!Number.isFinite(sigma[i])) continue;
      const x = (i - c) / reach;
      add(i, (a - x * (b - x * d)) / (sigma[i] * sigma[i] * determinant));
    }
  }
  return { light: out, errors: { shapes, covariance: null } };
}
