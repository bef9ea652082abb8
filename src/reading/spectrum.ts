/** The light's spectrum along the columns, smoothed only as far as the data allow. */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";

const HIGHEST_ORDER = 8;

/**
 * Smooths column amplitudes: the Legendre polynomial of the order that the Bayes criterion picks; where even the best
 * leaves structure (χ² per value above 1.5, as with a lamp that has lines), a running parabola over 15 columns instead.
 * @param amplitudes values and standard deviations per column; infinite deviation marks an unknown column
 */
export function smoothSpectrum(amplitudes: {
  value: Float64Array;
  sigma: Float64Array;
}): Float64Array<ArrayBuffer> {
  const n = amplitudes.value.length;
  const known: number[] = [];
  for (let c = 0; c < n; c++) if (Number.isFinite(amplitudes.sigma[c])) known.push(c);
  if (known.length < 4) return new Float64Array(n);
  const values = Float64Array.from(known, (c) => amplitudes.value[c]);
  const sigma = Float64Array.from(known, (c) => amplitudes.sigma[c]);
  const all = legendreColumns(
    Float64Array.from(known, (c) => (2 * c) / (n - 1) - 1),
    HIGHEST_ORDER,
  );
  let best: { score: number; parameters: Float64Array; chi: number } | null = null;
  for (let order = 0; order <= Math.min(HIGHEST_ORDER, known.length - 2); order++) {
    const fit = linearLeastSquares(all.slice(0, order + 1), values, sigma);
    const score = fit.chiSquare + (order + 1) * Math.log(known.length);
    if (best === null || score < best.score) best = { score, parameters: fit.parameters, chi: fit.chiSquare };
  }
  if (best !== null && best.chi / known.length < 1.5) {
    const basis = legendreColumns(
      Float64Array.from({ length: n }, (_, c) => (2 * c) / (n - 1) - 1),
      HIGHEST_ORDER,
    );
    const out = new Float64Array(n);
    best.parameters.forEach((a, k) => {
      for (let c = 0; c < n; c++) out[c] += a * basis[k][c];
    });
    return out;
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
  amplitudes: { value: Float64Array; sigma: Float64Array },
  reach: number,
): Float64Array<ArrayBuffer> {
  const n = amplitudes.value.length;
  const out = new Float64Array(n);
  const { value, sigma } = amplitudes;
  for (let c = 0; c < n; c++) {
    const from = Math.max(0, Math.min(c - reach, n - 1 - 2 * reach));
    const to = Math.min(n - 1, from + 2 * reach);
    let places = 0;
    let first = 0;
    let [s0, s1, s2, s3, s4, t0, t1, t2] = [0, 0, 0, 0, 0, 0, 0, 0];
    for (let i = from; i <= to; i++) {
      if (!Number.isFinite(sigma[i])) continue;
      if (places++ === 0) first = value[i];
      const x = (i - c) / reach;
      const w = 1 / (sigma[i] * sigma[i]);
      const wx = w * x;
      const wxx = wx * x;
      s0 += w;
      s1 += wx;
      s2 += wxx;
      s3 += wxx * x;
      s4 += wxx * x * x;
      t0 += w * value[i];
      t1 += wx * value[i];
      t2 += wxx * value[i];
    }
    // The parabola's value at x = 0, by Cramer's rule.
    const a = s2 * s4 - s3 * s3;
    const b = s1 * s4 - s2 * s3;
    const d = s1 * s3 - s2 * s2;
    const determinant = s0 * a - s1 * b + s2 * d;
    out[c] = places < 4 ? first : (t0 * a - t1 * b + t2 * d) / determinant;
  }
  return out;
}
