/** First values of the physical model from the rough trace: good enough for the pixel fit to find its way. */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { atomWavelength, type CurveSetting } from "./curve-model.ts";
import type { Gap } from "./gaps.ts";
import { evaluateTables, type LineTables } from "./line-tables.ts";
import type { RoughTrace } from "./rough-trace.ts";

export interface StartSetting
  extends Pick<CurveSetting, "anchors" | "wavelengthAt" | "pixelsPerRadian" | "heatedLength"> {
  readonly gaps: readonly Gap[];
}

/**
 * Column density whose model loses as much light around the gaps as the picture does; the plumb slit's blur does not
 * change that sum.
 */
export function startColumn(
  setting: StartSetting,
  tables: LineTables,
  trace: RoughTrace,
  reference: Float64Array,
): number {
  const n = trace.light.length;
  const chosen: number[] = [];
  for (let k = 0; k < n; k++) {
    const u = k + 0.5 - n / 2;
    if (setting.gaps.some((g) => Math.abs(u - g.along) < 4 * g.halfWidth + 6)) chosen.push(k);
  }
  let lost = 0;
  for (const k of chosen) lost += reference[k] > 0 ? 1 - trace.light[k] / reference[k] : 0;
  const fine = 8;
  const wavelengths = new Float64Array(chosen.length * fine);
  chosen.forEach((k, at) => {
    for (let i = 0; i < fine; i++)
      wavelengths[at * fine + i] = atomWavelength(
        setting,
        setting.gaps.map((g) => g.along),
        k + (i + 0.5) / fine - n / 2,
      );
  });
  const size = wavelengths.length;
  const kappa = new Float64Array(size);
  const sigma = new Float64Array(size);
  const thin = new Float64Array(size);
  const strengths = tables.lines.map(() => 1);
  const missing = (column: number): number => {
    evaluateTables(tables, wavelengths, strengths, column / setting.heatedLength, kappa, sigma, thin);
    let sum = 0;
    for (let i = 0; i < size; i++) sum += 1 - Math.exp(-sigma[i] * column);
    return sum / fine;
  };
  let low = Math.log(1e14);
  let high = Math.log(1e26);
  // To 2e-6: the pixel fit goes on from there.
  for (let pass = 0; pass < 24; pass++) {
    const middle = (low + high) / 2;
    if (missing(Math.exp(middle)) < lost) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

export interface StartGradient {
  readonly gradient: number;
  /** pixels */
  readonly offset: number;
  /** tilt beyond that of the undeflected line as given; 0 where that one is known */
  readonly slope: number;
  /** how many standard deviations the gradient stands off zero */
  readonly significance: number;
  /** mean square of the trace's distance from this curve, gaps left out, in its own uncertainties, each at most 5 */
  readonly misfit: number;
}

/** Standard deviations beyond which a point of the trace is just wrong. */
const FAR = 5;

/**
 * Gradient and common shift from the trace's gentle parts: linear least squares, clipped pass by pass.
 * @param tilted true where the undeflected line's tilt is but a guess: free then
 */
export function startGradient(
  setting: StartSetting,
  tables: LineTables,
  trace: RoughTrace,
  undeflected: (along: number) => number,
  tilted: boolean,
): StartGradient {
  const n = trace.height.length;
  const places: number[] = [];
  for (let k = 8; k < n - 8; k++) {
    const u = k + 0.5 - n / 2;
    if (!Number.isFinite(trace.sigma[k])) continue;
    if (setting.gaps.every((g) => Math.abs(u - g.along) > 1.3 * g.halfWidth + 3)) places.push(k);
  }
  const wavelengths = Float64Array.from(places, (k) =>
    atomWavelength(
      setting,
      setting.gaps.map((g) => g.along),
      k + 0.5 - n / 2,
    ),
  );
  const kappa = new Float64Array(places.length);
  const unused = new Float64Array(places.length);
  evaluateTables(
    tables,
    wavelengths,
    tables.lines.map(() => 1),
    0,
    kappa,
    unused,
    new Float64Array(places.length),
  );
  const alongOf = (i: number): number => places[i] + 0.5 - n / 2;
  const unit = 1e21;
  const shape = kappa.map((v) => v * setting.pixelsPerRadian * unit);
  const heights = Float64Array.from(places, (k, i) => trace.height[k] - undeflected(alongOf(i)));
  // A steep curve is less certain than its noise says: 5 % of the deflection stands for the model's own faults.
  const deviation = Float64Array.from(places, (k, i) => Math.hypot(trace.sigma[k], 0.05 * heights[i], 0.2));
  let keep = places.map((_, i) => i);
  let answer: StartGradient = { gradient: 0, offset: 0, slope: 0, significance: 0, misfit: FAR ** 2 };
  for (let pass = 0; pass < 4 && keep.length > 8; pass++) {
    const fit = linearLeastSquares(
      [
        new Float64Array(keep.length).fill(1),
        Float64Array.from(keep, (i) => shape[i]),
        ...(tilted ? [Float64Array.from(keep, (i) => alongOf(i))] : []),
      ],
      Float64Array.from(keep, (i) => heights[i]),
      Float64Array.from(keep, (i) => deviation[i]),
    );
    const [offset, bent] = fit.parameters;
    const slope = tilted ? fit.parameters[2] : 0;
    const residual = heights.map(
      (h, i) => Math.abs(h - offset - bent * shape[i] - slope * alongOf(i)) / deviation[i],
    );
    answer = {
      gradient: bent * unit,
      offset,
      slope,
      significance: Math.abs(bent) / Math.sqrt(fit.covariance[tilted ? 4 : 3]),
      misfit: residual.reduce((sum, r) => sum + Math.min(r, FAR) ** 2, 0) / residual.length,
    };
    const typical = keep.map((i) => residual[i]).sort((a, b) => a - b)[keep.length >> 1];
    keep = keep.filter((i) => residual[i] < 6 * Math.max(typical, 0.3));
  }
  return answer;
}
