/**
 * Hyperfine structure of one line of one isotope: levels from the A, B and C constants, strengths from 6j symbols.
 * Formulas: Arimondo, Inguscio & Violino, Rev. Mod. Phys. 49, 31 (1977), eq. (2.1); Steck, "Rubidium 87 D Line Data",
 * eqs. (15), (16) and (41).
 */
import { sixJ } from "./wigner.ts";

/** Constants of one fine-structure level, Hz. */
export interface HyperfineConstants {
  /** magnetic dipole */
  readonly a: number;
  /** electric quadrupole; counts only where I ≥ 1 and J ≥ 1 */
  readonly b?: number;
  /** magnetic octupole; counts only where I ≥ 3/2 and J ≥ 3/2 */
  readonly c?: number;
}

/** One transition F → F′ of a line. */
export interface HyperfineTransition {
  readonly fLower: number;
  /** undefined where the upper level is left unresolved */
  readonly fUpper: number | undefined;
  /** frequency above the line's centroid, Hz */
  readonly offset: number;
  /** share of the line's strength, 1; over a line they sum to 1 */
  readonly weight: number;
}

/** Total angular momenta F = |I − J| … I + J. */
export function totalMomenta(spin: number, j: number): readonly number[] {
  return Array.from({ length: 2 * Math.min(spin, j) + 1 }, (_, k) => Math.abs(spin - j) + k);
}

/**
 * Shift of the level F from the level's centre of gravity, Hz:
 * A·K/2 + B·[3/2 K(K+1) − 2I(I+1)J(J+1)]/[4I(2I−1)J(2J−1)] + C·[5K²(K/4+1) + K(I(I+1)+J(J+1)+3−3I(I+1)J(J+1)) −
 * 5I(I+1)J(J+1)]/[I(I−1)(2I−1)J(J−1)(2J−1)], K = F(F+1) − I(I+1) − J(J+1).
 */
export function hyperfineShift(f: number, spin: number, j: number, constants: HyperfineConstants): number {
  const ii = spin * (spin + 1);
  const jj = j * (j + 1);
  const k = f * (f + 1) - ii - jj;
  let shift = (constants.a * k) / 2;
  if (constants.b !== undefined && spin >= 1 && j >= 1) {
    shift +=
      (constants.b * (1.5 * k * (k + 1) - 2 * ii * jj)) / (4 * spin * (2 * spin - 1) * j * (2 * j - 1));
  }
  if (constants.c !== undefined && spin >= 1.5 && j >= 1.5) {
    const numerator = 5 * k * k * (k / 4 + 1) + k * (ii + jj + 3 - 3 * ii * jj) - 5 * ii * jj;
    shift += (constants.c * numerator) / (spin * (spin - 1) * (2 * spin - 1) * j * (j - 1) * (2 * j - 1));
  }
  return shift;
}

/**
 * Share of F → F′ in the absorption strength of a line J → J′ of an unpolarised vapour whose hyperfine levels are
 * filled by their multiplicity: (2F+1)(2F′+1)/(2I+1) · {J J′ 1; F′ F I}². Summed over F and F′ this is 1.
 */
export function hyperfineStrength(
  spin: number,
  j: number,
  jUpper: number,
  f: number,
  fUpper: number,
): number {
  const symbol = sixJ(j, jUpper, 1, fUpper, f, spin);
  return (((2 * f + 1) * (2 * fUpper + 1)) / (2 * spin + 1)) * symbol * symbol;
}

/**
 * All transitions of a line. Where the upper constants are unknown (`undefined`) the upper level stays unresolved and
 * every lower level gives one transition of weight (2F+1)/((2I+1)(2J+1)).
 */
export function hyperfineTransitions(
  spin: number,
  j: number,
  jUpper: number,
  lower: HyperfineConstants,
  upper: HyperfineConstants | undefined,
): readonly HyperfineTransition[] {
  const found: HyperfineTransition[] = [];
  for (const f of totalMomenta(spin, j)) {
    const down = hyperfineShift(f, spin, j, lower);
    if (upper === undefined) {
      const weight = (2 * f + 1) / ((2 * spin + 1) * (2 * j + 1));
      found.push({ fLower: f, fUpper: undefined, offset: -down, weight });
      continue;
    }
    for (const fUpper of totalMomenta(spin, jUpper)) {
      const weight = hyperfineStrength(spin, j, jUpper, f, fUpper);
      if (weight === 0) continue;
      found.push({ fLower: f, fUpper, offset: hyperfineShift(fUpper, spin, jUpper, upper) - down, weight });
    }
  }
  return found;
}
