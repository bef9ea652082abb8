/** Checks that a medium must pass, and what the classical electron would give in place of the published strengths. */
import { hypot, pow } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import { CLASSICAL_ELECTRON_RADIUS, type Line, linesOf, SPEED_OF_LIGHT } from "../reference/index.ts";
import { kramersKronig } from "./kramers-kronig.ts";
import type { Medium } from "./medium.ts";

export interface KramersKronigResidual {
  /** n − 1 of the medium minus what its absorption on the grid foretells minus constant and slope, 1; length of the grid */
  readonly residual: Float64Array;
  /** largest |residual| on the inner four fifths of the grid */
  readonly largest: number;
  /** `largest` over the largest |n − 1 foretold| there */
  readonly relative: number;
  /** what absorption outside the grid adds in its middle, 1 */
  readonly constant: number;
}

/**
 * How well a medium's index agrees with its own absorption. Absorption outside the grid changes n slowly inside it: a
 * constant and a slope over ω, fitted on the inner four fifths, take that up.
 *
 * @param wavelengths vacuum, m, strictly ascending: fine on every line inside and reaching far beyond them (what a Lorentz
 *   wing holds beyond the grid costs about width/distance to its end)
 * @throws Refusal a grid that is too short or not ascending; a medium that absorbs nothing on it
 */
export function kramersKronigResidual(medium: Medium, wavelengths: Float64Array): KramersKronigResidual {
  const n = wavelengths.length;
  if (n < 20 || wavelengths.some((l, i) => i > 0 && !(l > wavelengths[i - 1]))) {
    throw new Refusal({
      code: "grid",
      field: "wavelengths",
      received: `${n} wavelengths`,
      expected: "at least 20 wavelengths, strictly ascending",
    });
  }
  const response = medium.indexAt(wavelengths);
  if (!response.absorption.some((alpha) => alpha > 0)) {
    throw new Refusal({
      code: "no-absorption",
      field: "wavelengths",
      received: `${medium.name} without absorption`,
      expected: "a grid on which the medium absorbs",
      hint: "the index of a clear medium comes from absorption outside the grid",
    });
  }
  const descending = wavelengths.toReversed();
  const omegas = descending.map((wavelength) => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength);
  const kappas = descending.map(
    (wavelength, i) => (response.absorption[n - 1 - i] * wavelength) / (4 * Math.PI),
  );
  const foretold = kramersKronig({ omegas, kappas }, omegas).toReversed();
  const raw = response.refractivity.map((r, i) => r - foretold[i]);
  const edge = Math.ceil(n / 10);
  const middle = omegas[n >> 1];
  const x = omegas.toReversed().map((omega) => omega / middle - 1);
  const line = straightLine(x, raw, edge, n - edge);
  const residual = raw.map((value, i) => value - line.constant - line.slope * x[i]);
  let largest = 0;
  let scale = 0;
  for (let i = edge; i < n - edge; i++) {
    largest = Math.max(largest, Math.abs(residual[i]));
    scale = Math.max(scale, Math.abs(foretold[i]));
  }
  return { residual, largest, relative: largest / scale, constant: line.constant };
}

function straightLine(
  x: Float64Array,
  y: Float64Array,
  from: number,
  to: number,
): { readonly constant: number; readonly slope: number } {
  const count = to - from;
  let xMean = 0;
  let yMean = 0;
  for (let i = from; i < to; i++) {
    xMean += x[i] / count;
    yMean += y[i] / count;
  }
  let xx = 0;
  let xy = 0;
  for (let i = from; i < to; i++) {
    xx += pow(x[i] - xMean, 2);
    xy += (x[i] - xMean) * (y[i] - yMean);
  }
  const slope = xy / xx;
  return { constant: yMean - slope * xMean, slope };
}

/** Two lines of one term, from one lower level. */
export interface LinePair {
  readonly shorter: Line;
  readonly longer: Line;
  /** f(shorter)/f(longer) */
  readonly ratio: number;
  /** standard uncertainty of the ratio where both strengths carry one */
  readonly ratioUncertainty: number | undefined;
  /** what statistical weights and wavelengths alone would give: (g_s/g_l)·(λ_l/λ_s), 1 */
  readonly expected: number;
}

/** Pairs of lines that share lower level and upper term (D1 and D2, the second doublet, …), strongest first as listed. */
export function linePairs(element: string): readonly LinePair[] {
  const lines = linesOf(element);
  return lines.flatMap((first, i) =>
    lines.slice(i + 1).flatMap((second) => {
      const sameTerm =
        first.upper.configuration === second.upper.configuration && first.upper.term === second.upper.term;
      if (!sameTerm || first.lower.label !== second.lower.label || first.jUpper === second.jUpper) return [];
      const [shorter, longer] = first.wavelength < second.wavelength ? [first, second] : [second, first];
      const ratio = shorter.oscillatorStrength / longer.oscillatorStrength;
      const [a, b] = [shorter.strengthUncertainty, longer.strengthUncertainty];
      const relative =
        a === undefined || b === undefined
          ? undefined
          : hypot(a / shorter.oscillatorStrength, b / longer.oscillatorStrength);
      const expected = (shorter.gUpper / longer.gUpper) * (longer.wavelength / shorter.wavelength);
      return [
        {
          shorter,
          longer,
          ratio,
          ratioUncertainty: relative === undefined ? undefined : relative * ratio,
          expected,
        },
      ];
    }),
  );
}

/**
 * Σf of the listed lines from the ground level, 1. By the rule of Thomas, Reiche and Kuhn all lines and the continuum
 * together give the number of electrons taking part: about 1 for an alkali atom, 2 for an alkaline earth; what is missing
 * lies in lines that are not listed, in the continuum and in the core.
 */
export function strengthSum(element: string): number {
  return linesOf(element)
    .filter((line) => line.lowerEnergy === 0)
    .reduce((sum, line) => sum + line.oscillatorStrength, 0);
}

export interface ClassicalComparison {
  /** n − 1 by the published strengths of all listed lines from the ground level */
  readonly published: number;
  /** n − 1 by one classical electron, f = 1, bound at the mean frequency of the strongest term */
  readonly classical: number;
  /** vacuum wavelength at which the classical electron is bound, m */
  readonly classicalWavelength: number;
  /** Σf of the listed lines */
  readonly strengthSum: number;
}

/**
 * What the classical picture of one electron per atom would give, beside the published strengths, away from every line:
 * n − 1 = (r_e N/2π) Σ fᵢ λᵢ² λ²/(λ² − λᵢ²).
 *
 * @param density 1/m³; small enough that n − 1 ≪ 1
 * @param wavelength vacuum, m; not on a line (Refusal within 10⁻⁶ of one)
 */
export function classicalComparison(
  element: string,
  density: number,
  wavelength: number,
): ClassicalComparison {
  const lines = linesOf(element).filter((line) => line.lowerEnergy === 0);
  const strongest = lines.reduce((best, line) =>
    line.oscillatorStrength > best.oscillatorStrength ? line : best,
  );
  const term = lines.filter(
    (line) =>
      line.upper.configuration === strongest.upper.configuration && line.upper.term === strongest.upper.term,
  );
  const weight = term.reduce((sum, line) => sum + line.oscillatorStrength, 0);
  const frequency = term.reduce((sum, line) => sum + line.oscillatorStrength / line.wavelength, 0) / weight;
  const classicalWavelength = 1 / frequency;
  const scale = (CLASSICAL_ELECTRON_RADIUS * density) / (2 * Math.PI);
  const one = (f: number, own: number): number => {
    if (Math.abs(wavelength / own - 1) < 1e-6) {
      throw new Refusal({
        code: "on-a-line",
        field: "wavelength",
        received: `${wavelength} m`,
        expected: "a wavelength away from every line",
      });
    }
    return (scale * f * pow(own, 2) * pow(wavelength, 2)) / ((wavelength - own) * (wavelength + own));
  };
  return {
    published: lines.reduce((sum, line) => sum + one(line.oscillatorStrength, line.wavelength), 0),
    classical: one(1, classicalWavelength),
    classicalWavelength,
    strengthSum: strengthSum(element),
  };
}
