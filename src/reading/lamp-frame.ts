/**
 * The lamp frame: lines found, their common shape, roll and curvature fitted in two dimensions. Which line is which is
 * the affair of `wavelength-scale.ts`.
 */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { backgroundOf } from "./background.ts";
import type { LightFrame } from "./frame-light.ts";
import { alongAt, columnOnRow, type Geometry, turnedBy } from "./geometry.ts";
import { fitPeak, lineShape } from "./lamp-lines.ts";
import { type LineTilt, sharpestTilt, type Strip, stripsOf } from "./lamp-geometry.ts";
import { findPeaks, type LampPeak, type LampSpectrum } from "./lamp-peaks.ts";

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

/** Finds lines and geometry; null where the frame shows no lines. */
export function readLampFrame(frame: LightFrame): LampFrame | null {
  const background = backgroundOf(frame);
  const strips = stripsOf(frame, background, Math.min(40, Math.floor(frame.rows / 8)));
  if (strips.length < 3) return null;
  let tilt = sharpestTilt(strips, frame.columns);
  let geometry: Geometry = { columns: frame.columns, rows: frame.rows, ...tilt };
  let samples = lampSamples(strips, geometry);
  let rough = findPeaks(samples, frame.columns);
  if (rough.length === 0) return null;
  let uncertainty = { roll: 0, smile: 0 };
  const sigma = typicalSigma(samples, rough);
  for (let pass = 0; pass < 2; pass++) {
    const refined = refineTilt(strips, geometry, rough, sigma);
    if (refined === null) break;
    tilt = refined.tilt;
    uncertainty = { roll: refined.rollUncertainty, smile: refined.smileUncertainty };
    geometry = { columns: frame.columns, rows: frame.rows, ...tilt };
    samples = lampSamples(strips, geometry);
    rough = findPeaks(samples, frame.columns);
  }
  const spectrum = inOrder(samples, frame.columns);
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

/** All strip samples in the instrument's own coordinate, strip by strip. */
function lampSamples(strips: readonly Strip[], geometry: Geometry): LampSpectrum {
  const total = strips.reduce((sum, s) => sum + s.profile.length, 0);
  const along = new Float64Array(total);
  const light = new Float64Array(total);
  const sigma = new Float64Array(total);
  const turned = turnedBy(geometry);
  let at = 0;
  for (const { y, profile, noise } of strips) {
    const row = geometry.rows / 2 - y;
    for (let c = 0; c < profile.length; c++) {
      along[at] = alongAt(turned, c + 0.5, row);
      light[at] = profile[c];
      // Shot noise of the sum is not known yet: 1 % of the light stands for it and for uneven lines.
      const uneven = 0.01 * Math.max(profile[c], 0);
      sigma[at] = Math.sqrt(noise * noise + uneven * uneven);
      at++;
    }
  }
  return { along, light, sigma };
}

/** The same samples, places ascending. */
function inOrder({ along, light, sigma }: LampSpectrum, columns: number): LampSpectrum {
  const order = new Int32Array(along.length);
  sortByPlace(order, along, columns);
  const sorted = (values: Float64Array): Float64Array => {
    const out = new Float64Array(values.length);
    for (let i = 0; i < out.length; i++) out[i] = values[order[i]];
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
