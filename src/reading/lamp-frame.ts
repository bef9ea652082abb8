/**
 * The lamp frame: lines found, their common shape, roll and curvature fitted in two dimensions. Which line is which is
 * the affair of `wavelength-scale.ts`.
 */
import { leastSquares } from "../numerics/least-squares.ts";
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { backgroundOf } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";
import { alongOf, columnOnRow, type Geometry } from "./geometry.ts";
import { type LineTilt, sharpestTilt, type Strip, stripsOf } from "./lamp-geometry.ts";
import { findPeaks, type LampPeak, type LampSpectrum } from "./lamp-peaks.ts";
import { pixelOfBox } from "./smooth-box.ts";

export interface LampFrame {
  readonly geometry: Geometry;
  readonly rollUncertainty: number;
  readonly smileUncertainty: number;
  readonly peaks: readonly LampPeak[];
  /** width of a single line: box and Gaussian blur, pixels */
  readonly lineWidth: number;
  readonly lineSigma: number;
  /** points (U, light, sigma) of all strips, sorted by U: the lamp's spectrum, finely sampled */
  readonly spectrum: LampSpectrum;
}

/** Fall of ½χ² that counts as nothing: a fortieth of a standard deviation. */
const NOTHING_LEFT = 1e-3;

/** Finds lines and geometry; null where the frame shows no lines. */
export function readLampFrame(frame: LightFrame): LampFrame | null {
  const background = backgroundOf(frame);
  const strips = stripsOf(frame, background, Math.min(40, Math.floor(frame.rows / 8)));
  if (strips.length < 3) return null;
  let tilt = sharpestTilt(strips, frame.columns);
  let geometry: Geometry = { columns: frame.columns, rows: frame.rows, ...tilt };
  let spectrum = lampSpectrum(strips, geometry);
  let rough = findPeaks(spectrum, frame.columns);
  if (rough.length === 0) return null;
  let uncertainty = { roll: 0, smile: 0 };
  const sigma = typicalSigma(spectrum, rough);
  for (let pass = 0; pass < 2; pass++) {
    const refined = refineTilt(strips, geometry, rough, sigma);
    if (refined === null) break;
    tilt = refined.tilt;
    uncertainty = { roll: refined.rollUncertainty, smile: refined.smileUncertainty };
    geometry = { columns: frame.columns, rows: frame.rows, ...tilt };
    spectrum = lampSpectrum(strips, geometry);
    rough = findPeaks(spectrum, frame.columns);
  }
  const shape = lineShape(spectrum, rough, sigma);
  const peaks = rough.map((peak) => fitPeak(spectrum, peak, shape, frame.columns));
  return {
    geometry,
    rollUncertainty: uncertainty.roll,
    smileUncertainty: uncertainty.smile,
    peaks,
    lineWidth: shape.width,
    lineSigma: shape.sigma,
    spectrum,
  };
}

/** All strip samples in the instrument's own coordinate. */
function lampSpectrum(strips: readonly Strip[], geometry: Geometry): LampSpectrum {
  const total = strips.reduce((sum, s) => sum + s.profile.length, 0);
  const along = new Float64Array(total);
  const order = new Int32Array(total);
  const light = new Float64Array(total);
  const sigma = new Float64Array(total);
  const alongAt = alongOf(geometry);
  let at = 0;
  for (const strip of strips) {
    const row = geometry.rows / 2 - strip.y;
    for (let c = 0; c < strip.profile.length; c++) {
      along[at] = alongAt(c + 0.5, row);
      light[at] = strip.profile[c];
      // Shot noise of the sum is not known yet: 1 % of the light stands for it and for uneven lines.
      sigma[at] = Math.hypot(strip.noise, 0.01 * Math.max(strip.profile[c], 0));
      at++;
    }
  }
  sortByPlace(order, along, geometry.columns);
  const sorted = (values: Float64Array): Float64Array => {
    const out = new Float64Array(total);
    for (let i = 0; i < total; i++) out[i] = values[order[i]];
    return out;
  };
  return { along: sorted(along), light: sorted(light), sigma: sorted(sigma) };
}

/** Puts indices in the order of their places: dealt out to whole pixels first, then sorted within each. */
function sortByPlace(order: Int32Array, along: Float64Array, columns: number): void {
  const reach = columns;
  const slots = 2 * reach + 1;
  const slotOf = (i: number): number => Math.min(Math.max(Math.floor(along[i]) + reach, 0), slots - 1);
  const starts = new Int32Array(slots + 1);
  for (let i = 0; i < along.length; i++) starts[slotOf(i) + 1]++;
  for (let s = 0; s < slots; s++) starts[s + 1] += starts[s];
  const next = starts.slice(0, slots);
  for (let i = 0; i < along.length; i++) {
    const s = slotOf(i);
    let at = next[s]++;
    while (at > starts[s] && along[order[at - 1]] > along[i]) {
      order[at] = order[at - 1];
      at--;
    }
    order[at] = i;
  }
}

/** Gaussian-equivalent width of the clean lines, pixels. */
function typicalSigma(spectrum: LampSpectrum, peaks: readonly LampPeak[]): number {
  const widths: number[] = [];
  for (const peak of peaks) {
    if (peak.atEdge) continue;
    let sum = 0;
    let square = 0;
    for (let i = 0; i < spectrum.along.length; i++) {
      const d = spectrum.along[i] - peak.along;
      if (Math.abs(d) > 12) continue;
      const w = spectrum.light[i] > 0.05 * peak.height ? spectrum.light[i] : 0;
      sum += w;
      square += w * d * d;
    }
    if (sum > 0) widths.push(Math.sqrt(square / sum));
  }
  if (widths.length === 0) return 1.5;
  return Math.max(0.6, Math.min(...widths));
}

/** Place of every line in every strip, then one linear fit of places, roll and curvature. */
function refineTilt(
  strips: readonly Strip[],
  geometry: Geometry,
  peaks: readonly LampPeak[],
  sigma: number,
): { tilt: LineTilt; rollUncertainty: number; smileUncertainty: number } | null {
  const usable = peaks.filter((p) => !p.atEdge);
  if (usable.length === 0) return null;
  const rows: { peak: number; y: number; offset: number; sigma: number }[] = [];
  usable.forEach((peak, at) => {
    for (const strip of strips) {
      const guess = columnOnRow(geometry, peak.along, geometry.rows / 2 - strip.y);
      const place = stripPlace(strip, guess, sigma);
      if (place !== null)
        rows.push({ peak: at, y: strip.y, offset: place.column - guess, sigma: place.sigma });
    }
  });
  const n = usable.length;
  if (rows.length < n + 4) return null;
  let keep = rows;
  for (let pass = 0; pass < 3; pass++) {
    const columns = Array.from({ length: n }, (_, k) =>
      Float64Array.from(keep, (r) => (r.peak === k ? 1 : 0)),
    );
    columns.push(Float64Array.from(keep, (r) => r.y));
    columns.push(Float64Array.from(keep, (r) => r.y * r.y));
    const fit = linearLeastSquares(
      columns,
      Float64Array.from(keep, (r) => r.offset),
      Float64Array.from(keep, (r) => r.sigma),
    );
    const excess = Math.max(1, Math.sqrt(fit.chiSquare / Math.max(1, keep.length - n - 2)));
    const residual = (r: (typeof keep)[number]): number =>
      Math.abs(
        r.offset - fit.parameters[r.peak] - fit.parameters[n] * r.y - fit.parameters[n + 1] * r.y * r.y,
      ) / r.sigma;
    const next = rows.filter((r) => residual(r) < 4 * excess);
    if (pass === 2 || next.length < n + 4) {
      const size = n + 2;
      return {
        tilt: {
          roll: geometry.roll - Math.atan(fit.parameters[n]),
          smile: geometry.smile + fit.parameters[n + 1],
        },
        rollUncertainty: excess * Math.sqrt(fit.covariance[n * size + n]),
        smileUncertainty: excess * Math.sqrt(fit.covariance[(n + 1) * size + n + 1]),
      };
    }
    keep = next;
  }
  return null;
}

/** Centre of a line in one strip: weighted by its own Gaussian, iterated; null where the strip does not hold it. */
function stripPlace(strip: Strip, guess: number, sigma: number): { column: number; sigma: number } | null {
  let centre = guess;
  const n = strip.profile.length;
  if (guess < 3 * sigma || guess > n - 3 * sigma) return null;
  let light = 0;
  for (let pass = 0; pass < 6; pass++) {
    let sum = 0;
    let moment = 0;
    const from = Math.max(0, Math.floor(centre - 4 * sigma));
    const to = Math.min(n - 1, Math.ceil(centre + 4 * sigma));
    for (let c = from; c <= to; c++) {
      const d = c + 0.5 - centre;
      const w = Math.exp((-0.5 * d * d) / (sigma * sigma)) * strip.profile[c];
      sum += w;
      moment += w * d;
    }
    if (sum <= 0) return null;
    light = sum;
    // A Gaussian seen through an equal Gaussian shows half of its shift.
    centre += (2 * moment) / sum;
    if (Math.abs(centre - guess) > 4 * sigma) return null;
  }
  // Matched filter: σ_x = 2^{1/2}·π^{1/4}… reduces to noise/(light) times the width, up to factors of order one.
  const deviation = (strip.noise * 2 * sigma * Math.sqrt(sigma * 0.886)) / light + 0.004 * sigma;
  return light > 6 * strip.noise * Math.sqrt(sigma) ? { column: centre, sigma: deviation } : null;
}

/** Box and blur of one clean, strong line; the narrowest stands for all. */
function lineShape(
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
        for (let i = window.from; i < window.to; i++) {
          const model = (p[0] / p[2]) * pixelOfBox(spectrum.along[i] - p[1], p[2], p[3]) + p[4];
          out[i - window.from] = (model - spectrum.light[i]) / spectrum.sigma[i];
        }
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

function windowOf(spectrum: LampSpectrum, centre: number, reach: number): { from: number; to: number } {
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
function fitPeak(
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
  const found = leastSquares({
    start: [along, 0, ...distances.map(() => (height * shape.width * 1.2) / n)],
    residualCount: count,
    residuals: (p, out) => {
      for (let i = window.from; i < window.to; i++) {
        let model = p[1];
        for (let k = 0; k < n; k++)
          model +=
            (p[2 + k] / shape.width) *
            pixelOfBox(spectrum.along[i] - p[0] - distances[k], shape.width, shape.sigma);
        out[i - window.from] = (model - spectrum.light[i]) / spectrum.sigma[i];
      }
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
