/** What the noise of the light without vapour, read from the cold frame, does to the fitted values. */
import type { FittedPicture } from "./fit-picture.ts";
import { alongAt, turnedBy } from "./geometry.ts";

/**
 * The fit takes the cold frame's light per column as it is. An error δS of it is an error m·δS/S of each pixel's model m, which moves
 * the values by −C Jᵀ(m·δS/(S·σ)): to first order, with δS of a column for all pixels that lie at its place along the spectrum.
 * @returns covariance that this adds, column-major n × n in the order of the terms; zeros without a cold frame
 */
export function spectrumNoise(
  fitted: Pick<FittedPicture, "hot" | "fit" | "pixels" | "terms" | "undeflected">,
): Float64Array {
  const { fit, terms, undeflected } = fitted;
  const n = terms.length;
  const { shapes, covariance } = undeflected.spectrumErrors;
  const added = new Float64Array(n * n);
  if (shapes.length === 0) return added;
  const moves = columnMoves(fitted);
  const columns = undeflected.spectrum.length;
  // What each shape of error does to the values: n × shapes.
  const shifts = new Float64Array(n * shapes.length);
  shapes.forEach(({ from, light }, q) => {
    for (let k = 0; k < n; k++) {
      let sum = 0;
      for (let c = 0; c < light.length; c++) sum += moves[k * columns + from + c] * light[c];
      for (let a = 0; a < n; a++) shifts[q * n + a] += fit.solution.covariance[k * n + a] * sum;
    }
  });
  const size = shapes.length;
  for (let q = 0; q < size; q++)
    for (let s = covariance === null ? q : 0; s < (covariance === null ? q + 1 : size); s++) {
      const shared = covariance === null ? 1 : covariance[s * size + q];
      for (let a = 0; a < n; a++)
        for (let b = 0; b < n; b++) added[b * n + a] += shared * shifts[q * n + a] * shifts[s * n + b];
    }
  return added;
}

/** Jᵀ(m/(S·σ)) of the pixels of each column: row-major n × columns. */
function columnMoves({
  hot,
  fit,
  pixels,
  terms,
  undeflected: { spectrum },
}: Parameters<typeof spectrumNoise>[0]): Float64Array {
  const { values, model, sigma } = fit;
  const { jacobian, residuals } = fit.solution;
  const columns = spectrum.length;
  const turned = turnedBy({ columns: hot.columns, rows: hot.rows, roll: values.roll, smile: values.smile });
  const moves = new Float64Array(terms.length * columns);
  for (let i = 0; i < pixels.length; i++) {
    const row = Math.floor(pixels[i] / hot.columns);
    const along = alongAt(turned, pixels[i] - row * hot.columns + 0.5, row + 0.5);
    const c = Math.min(Math.max(Math.floor(along + columns / 2), 0), columns - 1);
    if (spectrum[c] <= 0) continue;
    const share = (model[i] - values.background) / (spectrum[c] * sigma[i]);
    for (let k = 0; k < terms.length; k++)
      moves[k * columns + c] += jacobian[k * residuals.length + i] * share;
  }
  return moves;
}
