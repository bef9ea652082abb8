/** First values of the physical model from the rough trace: good enough for the pixel fit to find its way. */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { type CurveSetting, fillWavelengths } from "./curve-model.ts";
import type { Gap } from "./gaps.ts";
import { evaluateTables, type LineTables } from "./line-tables.ts";
import { valuesAt } from "./pixel-loops.ts";
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
  const beside = besideGaps(n, setting.gaps, 4, 6);
  const chosen: number[] = [];
  for (let k = 0; k < n; k++) if (beside[k] === 1) chosen.push(k);
  let lost = 0;
  for (const k of chosen) lost += reference[k] > 0 ? 1 - trace.light[k] / reference[k] : 0;
  const fine = 8;
  const size = chosen.length * fine;
  const places = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const part = i % fine;
    places[i] = chosen[(i - part) / fine] + (part + 0.5) / fine - n / 2;
  }
  const wavelengths = new Float64Array(size);
  fillWavelengths(setting, gapPlaces(setting), places, wavelengths);
  const kappa = new Float64Array(size);
  const sigma = new Float64Array(size);
  const thin = new Float64Array(size);
  const strengths = tables.lines.map(() => 1);
  const missing = (column: number): number => {
    evaluateTables(tables, wavelengths, strengths, column / setting.heatedLength, kappa, sigma, thin);
    return lightLost(sigma, column) / fine;
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
  const beside = besideGaps(n, setting.gaps, 1.3, 3);
  const places: number[] = [];
  for (let k = 8; k < n - 8; k++) if (Number.isFinite(trace.sigma[k]) && beside[k] === 0) places.push(k);
  const along = new Float64Array(places.length);
  for (let i = 0; i < along.length; i++) along[i] = places[i] + 0.5 - n / 2;
  const wavelengths = new Float64Array(places.length);
  fillWavelengths(setting, gapPlaces(setting), along, wavelengths);
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
  const unit = 1e21;
  const shape = new Float64Array(places.length);
  const heights = new Float64Array(places.length);
  const deviation = new Float64Array(places.length);
  for (let i = 0; i < places.length; i++) {
    shape[i] = kappa[i] * setting.pixelsPerRadian * unit;
    heights[i] = trace.height[places[i]] - undeflected(along[i]);
    // A steep curve is less certain than its noise says: 5 % of the deflection stands for the model's own faults.
    deviation[i] = Math.hypot(trace.sigma[places[i]], 0.05 * heights[i], 0.2);
  }
  const residual = new Float64Array(places.length);
  let keep = new Int32Array(places.length);
  for (let i = 0; i < keep.length; i++) keep[i] = i;
  let answer: StartGradient = { gradient: 0, offset: 0, slope: 0, significance: 0, misfit: FAR ** 2 };
  for (let pass = 0; pass < 4 && keep.length > 8; pass++) {
    const fit = linearLeastSquares(
      [
        new Float64Array(keep.length).fill(1),
        valuesAt(shape, keep),
        ...(tilted ? [valuesAt(along, keep)] : []),
      ],
      valuesAt(heights, keep),
      valuesAt(deviation, keep),
    );
    const [offset, bent] = fit.parameters;
    const slope = tilted ? fit.parameters[2] : 0;
    for (let i = 0; i < residual.length; i++)
      residual[i] = Math.abs(heights[i] - offset - bent * shape[i] - slope * along[i]) / deviation[i];
    answer = {
      gradient: bent * unit,
      offset,
      slope,
      significance: Math.abs(bent) / Math.sqrt(fit.covariance[tilted ? 4 : 3]),
      misfit: boundedSquares(residual) / residual.length,
    };
    const typical = valuesAt(residual, keep).sort()[keep.length >> 1];
    keep = within(keep, residual, 6 * Math.max(typical, 0.3));
  }
  return answer;
}

/** 1 at the columns of the trace within so many half widths and pixels of a gap. */
function besideGaps(columns: number, gaps: readonly Gap[], halfWidths: number, more: number): Uint8Array {
  const beside = new Uint8Array(columns);
  for (const { along, halfWidth } of gaps) {
    const reach = halfWidths * halfWidth + more;
    for (let k = 0; k < columns; k++) if (Math.abs(k + 0.5 - columns / 2 - along) <= reach) beside[k] = 1;
  }
  return beside;
}

function gapPlaces({ gaps }: StartSetting): number[] {
  return gaps.map((gap) => gap.along);
}

/** Σ (1 − exp(−σ·column)). */
function lightLost(sigma: Float64Array, column: number): number {
  let sum = 0;
  for (let i = 0; i < sigma.length; i++) sum += 1 - Math.exp(-sigma[i] * column);
  return sum;
}

function boundedSquares(residual: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < residual.length; i++) sum += Math.min(residual[i], FAR) ** 2;
  return sum;
}

/** Those of the list whose residual is below a limit. */
function within(list: Int32Array, residual: Float64Array, limit: number): Int32Array<ArrayBuffer> {
  const kept = new Int32Array(list.length);
  let count = 0;
  for (let i = 0; i < list.length; i++) if (residual[list[i]] < limit) kept[count++] = list[i];
  return kept.slice(0, count);
}
