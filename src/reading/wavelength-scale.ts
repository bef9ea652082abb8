/**
 * Which lamp line is which, and the polynomial through them. Survives missing, extra, blended and edge-cut lines by
 * trying every pair of identifications that the prior allows and counting what else then falls into place.
 */
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import type { LampFeature } from "./api.ts";
import type { LampFrame } from "./lamp-frame.ts";
import { fitGroup } from "./lamp-lines.ts";
import type { LampPeak } from "./lamp-peaks.ts";

/** What is known of the scale before the lamp is looked at. */
export interface ScalePrior {
  /** vacuum wavelength, m, at a place in pixels from the middle */
  wavelength(along: number): number;
  /** m per pixel near the middle */
  readonly dispersion: number;
  /** how far the place may be off, pixels */
  readonly shift: number;
  /** how far the dispersion may be off, share */
  readonly stretch: number;
}

export interface LampScale {
  /** λ = Σ a_k (U/1000)^k, m */
  readonly coefficients: Float64Array;
  /** covariance of the correction's coefficients (the lowest `size` of them), column-major size × size */
  readonly covariance: Float64Array;
  readonly size: number;
  readonly features: readonly LampFeature[];
  readonly rmsResidual: number;
  /** true where another identification does as well */
  readonly ambiguous: boolean;
}

interface Hypothesis {
  readonly offset: number;
  readonly dispersion: number;
  readonly score: number;
  readonly matched: number;
}

const TOLERANCE = 4;
/** A scale that moves by less than this from pass to pass is found, pixels. */
const AT_REST = 1e-5;

/** null where fewer than two lines can be identified. */
export function lampScale(lamp: LampFrame, lines: readonly number[], prior: ScalePrior): LampScale | null {
  const known = [...lines].sort((a, b) => a - b);
  const ranked = hypotheses(lamp.peaks, known, prior);
  if (ranked.length === 0 || ranked[0].matched < 2) return null;
  const best = ranked[0];
  const rival = ranked.find(
    (h) =>
      Math.abs(h.offset - best.offset) > 3 * TOLERANCE * Math.abs(best.dispersion) &&
      h.score > best.score - 0.5,
  );
  let wavelength = (u: number): number =>
    prior.wavelength(0) + best.offset + best.dispersion * u + bow(prior, u);
  let fit = settle(lamp, known, wavelength, best.dispersion, 12, prior);
  for (let pass = 0; pass < 3 && fit !== null; pass++) {
    const coefficients = fit.coefficients;
    wavelength = (u) => polynomial(coefficients, u / 1000);
    const next = settle(lamp, known, wavelength, coefficients[1] / 1000, 4, prior);
    if (next === null) break;
    const moved = largestMove(coefficients, next.coefficients, lamp.geometry.columns / 2);
    fit = next;
    if (moved < AT_REST * Math.abs(prior.dispersion)) break;
  }
  return fit === null ? null : { ...fit, ambiguous: rival !== undefined };
}

/** Largest difference of two scales in the middle and at both ends of the picture, m. */
function largestMove(one: Float64Array, other: Float64Array, reach: number): number {
  const at = [-reach, 0, reach].map((u) => Math.abs(polynomial(one, u / 1000) - polynomial(other, u / 1000)));
  return Math.max(...at);
}

/** Curvature that the prior brings beyond a straight line. */
function bow(prior: ScalePrior, u: number): number {
  return prior.wavelength(u) - prior.wavelength(0) - prior.dispersion * u;
}

function hypotheses(peaks: readonly LampPeak[], known: readonly number[], prior: ScalePrior): Hypothesis[] {
  const found: Hypothesis[] = [];
  const base = prior.wavelength(0);
  const bows = peaks.map((peak) => bow(prior, peak.along));
  const consider = (offset: number, dispersion: number): void => {
    if (Math.abs(offset) > prior.shift * Math.abs(prior.dispersion)) return;
    if (Math.abs(dispersion / prior.dispersion - 1) > prior.stretch) return;
    let score = 0;
    let matched = 0;
    const used = new Set<number>();
    for (const [i, peak] of peaks.entries()) {
      const at = base + offset + dispersion * peak.along + bows[i];
      let nearest = -1;
      for (let k = 0; k < known.length; k++)
        if (nearest < 0 || Math.abs(known[k] - at) < Math.abs(known[nearest] - at)) nearest = k;
      const off = Math.abs(known[nearest] - at) / Math.abs(dispersion);
      if (off < TOLERANCE * 2 && !used.has(nearest)) {
        used.add(nearest);
        matched++;
        score += 1 - 0.5 * (off / (TOLERANCE * 2)) ** 2;
      }
    }
    // A prior that is met is worth a little, so that equal counts fall to the likelier scale.
    score -= 0.3 * (offset / (prior.shift * prior.dispersion)) ** 2;
    score -= 0.3 * ((dispersion / prior.dispersion - 1) / prior.stretch) ** 2;
    found.push({ offset, dispersion, score, matched });
  };
  for (let i = 0; i < peaks.length; i++) {
    for (let j = i + 1; j < peaks.length; j++) {
      for (const a of known) {
        for (const b of known) {
          if (a === b) continue;
          const run = peaks[j].along - peaks[i].along;
          const dispersion = (b - a - bows[j] + bows[i]) / run;
          consider(a - bows[i] - dispersion * peaks[i].along - base, dispersion);
        }
      }
    }
  }
  return found.sort((a, b) => b.score - a.score);
}

interface Match {
  readonly peak: LampPeak;
  readonly wavelengths: readonly number[];
  readonly along: number;
  readonly sigma: number;
}

function settle(
  lamp: LampFrame,
  known: readonly number[],
  wavelength: (u: number) => number,
  dispersion: number,
  tolerance: number,
  prior: ScalePrior,
): Omit<LampScale, "ambiguous"> | null {
  const blend = 2.2 * Math.sqrt(lamp.lineWidth ** 2 / 12 + lamp.lineSigma ** 2);
  const matches: Match[] = [];
  const taken = new Set<number>();
  const byHeight = [...lamp.peaks].sort((a, b) => b.height - a.height);
  for (const peak of byHeight) {
    const at = wavelength(peak.along);
    const near = known.filter(
      (w) => !taken.has(w) && Math.abs(w - at) < (tolerance + blend) * Math.abs(dispersion),
    );
    if (near.length === 0) continue;
    const closest = near.reduce((a, b) => (Math.abs(a - at) < Math.abs(b - at) ? a : b));
    const members = near.filter((w) => Math.abs(w - closest) < 2 * blend * Math.abs(dispersion));
    if (members.length === 1 && Math.abs(closest - at) > tolerance * Math.abs(dispersion)) continue;
    for (const w of members) taken.add(w);
    const reference = members[0];
    const distances = members.map((w) => (w - reference) / dispersion);
    const shape = { width: lamp.lineWidth, sigma: lamp.lineSigma };
    const start = peak.along - distances.reduce((a, b) => a + b, 0) / distances.length;
    const group =
      members.length === 1
        ? { along: peak.along, sigma: peak.sigma }
        : fitGroup(lamp.spectrum, distances, start, peak.height, shape);
    if (group === null) continue;
    // Light is lost at the frame's edge, which pushes a cut line inward; its place counts for little.
    const sigma = Math.hypot(group.sigma, peak.atEdge ? 0.7 : 0.005);
    matches.push({ peak, wavelengths: members, along: group.along, sigma });
  }
  if (matches.length < 2) return null;
  return polynomialThrough(lamp, matches, Math.abs(dispersion), prior);
}

/** The prior scale as a polynomial in U/1000, through as many points as it has coefficients. */
function priorPolynomial(prior: ScalePrior, reach: number): Float64Array {
  const order = 4;
  const places = Float64Array.from({ length: order + 1 }, (_, i) => (reach * (2 * i - order)) / order);
  const columns = Array.from({ length: order + 1 }, (_, k) => places.map((u) => (u / 1000) ** k));
  const fit = linearLeastSquares(
    columns,
    places.map((u) => prior.wavelength(u)),
    new Float64Array(order + 1).fill(1),
  );
  return fit.parameters;
}

/**
 * Correction of the prior scale, straight line up to cubic; a term stays only if the Bayes criterion asks for it. With
 * two or three lines the disperser's own bend is kept, which a straight line through them would lose.
 */
function polynomialThrough(
  lamp: LampFrame,
  matches: readonly Match[],
  dispersion: number,
  prior: ScalePrior,
): Omit<LampScale, "ambiguous"> {
  const n = matches.length;
  const before = priorPolynomial(prior, lamp.geometry.columns / 2);
  const values = Float64Array.from(matches, (m) => m.wavelengths[0] - polynomial(before, m.along / 1000));
  const sigma = Float64Array.from(matches, (m) => m.sigma * dispersion);
  let best: {
    score: number;
    coefficients: Float64Array;
    covariance: Float64Array;
    chi: number;
    order: number;
  } | null = null;
  const highest = Math.min(3, n <= 3 ? n - 1 : n - 2);
  for (let order = 1; order <= highest; order++) {
    const columns = Array.from({ length: order + 1 }, (_, k) =>
      Float64Array.from(matches, (m) => (m.along / 1000) ** k),
    );
    const fit = linearLeastSquares(columns, values, sigma);
    const score = fit.chiSquare + (order + 1) * Math.log(Math.max(n, 3)) + (order === 3 ? 4 : 0);
    if (best === null || score < best.score - 1e-9)
      best = { score, coefficients: fit.parameters, covariance: fit.covariance, chi: fit.chiSquare, order };
  }
  if (best === null) throw new Error("no polynomial through the lamp lines");
  const freedom = n - best.order - 1;
  const excess = freedom > 0 ? Math.max(1, best.chi / freedom) : 1;
  const chosen = best;
  const coefficients = before.slice();
  chosen.coefficients.forEach((a, k) => {
    coefficients[k] += a;
  });
  let square = 0;
  const features: LampFeature[] = lamp.peaks.map((peak) => {
    const match = matches.find((m) => m.peak === peak);
    const along = match?.along ?? peak.along;
    const residual = match ? polynomial(coefficients, along / 1000) - match.wavelengths[0] : 0;
    if (match && !peak.atEdge) square += residual * residual;
    return {
      column: along + lamp.geometry.columns / 2,
      standardUncertainty: match?.sigma ?? peak.sigma,
      height: peak.height,
      wavelengths: match?.wavelengths ?? [],
      residual,
      atEdge: peak.atEdge,
    };
  });
  return {
    coefficients,
    covariance: chosen.covariance.map((v) => v * excess),
    size: chosen.coefficients.length,
    features,
    rmsResidual: Math.sqrt(square / n),
  };
}

/** Σ a_k t^k. */
export function polynomial(coefficients: ArrayLike<number>, t: number): number {
  let sum = 0;
  for (let k = coefficients.length - 1; k >= 0; k--) sum = sum * t + coefficients[k];
  return sum;
}
