/** Shape of a lamp's lines and their places, fitted to its spectrum. */
import { leastSquares } from "../numerics/least-squares.ts";
import type { LampPeak, LampSpectrum } from "./lamp-peaks.ts";
import { type BoxSlopes, boxSlopes, pixelOfBox } from "./smooth-box.ts";

/** Fall of ½χ² that counts as nothing: a fortieth of a standard deviation. */
const NOTHING_LEFT = 1e-3;

/** Box and blur of one clean, strong line; the narrowest stands for all. */
export function lineShape(
  spectrum: LampSpectrum,
  peaks: readonly LampPeak[],
  sigma: number,
): { width: number; sigma: number } {
  let best: { width: number; sigma: number; variance: number } | null = null;
  const candidates = [...peaks].filter((p) => !p.atEdge).sort((a, b) => b.height - a.height);
  for (const peak of candidates.slice(0, 6)) {
    const window = windowOf(spectrum, peak.along, 6 * sigma);
    if (window.to - window.from < 12) continue;
    const found = leastSquares({
      start: [peak.height * 2 * sigma, peak.along, 2 * sigma, sigma, 0],
      residualCount: window.to - window.from,
      residuals: (p, out) => {
        shapeResiduals(spectrum, window, p, out);
      },
      jacobian: (p, _residuals, out) => {
        shapeSlopes(spectrum, window, p, out);
      },
      lower: [0, peak.along - 5, 0.1, 0.2, -1],
      upper: [100, peak.along + 5, 12 * sigma, 6 * sigma, 1],
      loss: "huber",
      lossScale: 3,
      maxIterations: 40,
      fallTolerance: NOTHING_LEFT,
    });
    const [, , width, blur] = found.parameters;
    const variance = (width * width) / 12 + blur * blur;
    if (best === null || variance < best.variance) best = { width, sigma: blur, variance };
  }
  return best ?? { width: 0.5, sigma };
}

// The loops are functions of the file: what the engine compiles for a function made within another is gone with that one.

/** Weighted residuals of one line: light, place, width, blur, level. */
function shapeResiduals(
  { along, light, sigma }: LampSpectrum,
  { from, to }: Window,
  p: Float64Array,
  out: Float64Array,
): void {
  for (let i = from; i < to; i++) {
    const model = (p[0] / p[2]) * pixelOfBox(along[i] - p[1], p[2], p[3]) + p[4];
    out[i - from] = (model - light[i]) / sigma[i];
  }
}

function shapeSlopes(
  { along, sigma }: LampSpectrum,
  { from, to }: Window,
  p: Float64Array,
  out: Float64Array,
): void {
  const box = noSlopes();
  const m = to - from;
  const width = p[2];
  for (let i = 0; i < m; i++) {
    boxSlopes(along[from + i] - p[1], width, p[3], box);
    const weight = 1 / sigma[from + i];
    const full = (p[0] / width) * weight;
    out[i] = (box.value / width) * weight;
    out[m + i] = -full * box.byPlace;
    out[2 * m + i] = full * (box.byWidth - box.value / width);
    out[3 * m + i] = full * box.bySigma;
    out[4 * m + i] = weight;
  }
}

/** Weighted residuals of a group: place, level, then the light of each member. */
function groupResiduals(
  { along, light, sigma }: LampSpectrum,
  { from, to }: Window,
  { distances, width, blur }: Group,
  p: Float64Array,
  out: Float64Array,
): void {
  for (let i = from; i < to; i++) {
    let model = p[1];
    for (let k = 0; k < distances.length; k++)
      model += (p[2 + k] / width) * pixelOfBox(along[i] - p[0] - distances[k], width, blur);
    out[i - from] = (model - light[i]) / sigma[i];
  }
}

function groupSlopes(
  { along, sigma }: LampSpectrum,
  { from, to }: Window,
  { distances, width, blur }: Group,
  p: Float64Array,
  out: Float64Array,
): void {
  const box = noSlopes();
  const m = to - from;
  for (let i = 0; i < m; i++) {
    const weight = 1 / sigma[from + i];
    let byPlace = 0;
    for (let k = 0; k < distances.length; k++) {
      boxSlopes(along[from + i] - p[0] - distances[k], width, blur, box);
      byPlace -= (p[2 + k] / width) * box.byPlace;
      out[(2 + k) * m + i] = (box.value / width) * weight;
    }
    out[i] = byPlace * weight;
    out[m + i] = weight;
  }
}

function noSlopes(): BoxSlopes {
  return { value: 0, byPlace: 0, byWidth: 0, bySigma: 0 };
}

/** Samples of the spectrum from one index to before the other. */
interface Window {
  readonly from: number;
  readonly to: number;
}

/** Lines of one shape at known distances, pixels. */
interface Group {
  readonly distances: readonly number[];
  readonly width: number;
  readonly blur: number;
}

function windowOf(spectrum: LampSpectrum, centre: number, reach: number): Window {
  const { along } = spectrum;
  return { from: firstFrom(along, centre - reach), to: firstFrom(along, centre + reach) };
}

/** Index of the first value that is not below a limit; the values ascend. */
function firstFrom(values: Float64Array, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Place of a single line of known shape. */
export function fitPeak(
  spectrum: LampSpectrum,
  peak: LampPeak,
  shape: { width: number; sigma: number },
  columns: number,
): LampPeak {
  const spread = Math.sqrt(shape.width ** 2 / 12 + shape.sigma ** 2);
  const fit = fitGroup(spectrum, [0], peak.along, peak.height, shape);
  if (fit === null) return peak;
  const nearEdge = Math.min(fit.along + columns / 2, columns / 2 - fit.along) < 3 * spread;
  return { along: fit.along, sigma: fit.sigma, height: peak.height, atEdge: nearEdge };
}

/**
 * Place of a group of lines with known distances and free heights.
 * @param distances pixels from the group's reference, one per member
 */
export function fitGroup(
  spectrum: LampSpectrum,
  distances: readonly number[],
  along: number,
  height: number,
  shape: { width: number; sigma: number },
): { along: number; sigma: number; chiSquare: number } | null {
  const spread = Math.sqrt(shape.width ** 2 / 12 + shape.sigma ** 2);
  const n = distances.length;
  const window = windowOf(spectrum, along, 4 * spread + Math.max(...distances.map(Math.abs)));
  const count = window.to - window.from;
  if (count < n + 4) return null;
  const group: Group = { distances, width: shape.width, blur: shape.sigma };
  const found = leastSquares({
    start: [along, 0, ...distances.map(() => (height * shape.width * 1.2) / n)],
    residualCount: count,
    residuals: (p, out) => {
      groupResiduals(spectrum, window, group, p, out);
    },
    jacobian: (p, _residuals, out) => {
      groupSlopes(spectrum, window, group, p, out);
    },
    lower: [along - 8, -1, ...distances.map(() => 0)],
    upper: [along + 8, 1, ...distances.map(() => 100)],
    loss: "huber",
    lossScale: 3,
    maxIterations: 40,
    fallTolerance: NOTHING_LEFT,
  });
  const size = 2 + n;
  const excess = Math.max(1, Math.sqrt((2 * found.cost) / Math.max(1, count - size)));
  const sigma = excess * Math.sqrt(Math.max(found.covariance[0], 0));
  return { along: found.parameters[0], sigma: Math.max(sigma, 1e-3), chiSquare: found.cost * 2 };
}
