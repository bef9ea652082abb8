/** Splits the lines of an element into the components that the susceptibility is summed over. */
import { exp } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/index.ts";
import type { HyperfineLevel, Isotope, Line } from "../reference/index.ts";
import {
  BOLTZMANN,
  isotopeShiftsOf,
  isotopesOf,
  linesOf,
  meanMassOf,
  SPEED_OF_LIGHT,
} from "../reference/index.ts";
import type { LineComponent, VapourState } from "./api.ts";
import type { HyperfineConstants } from "./hyperfine.ts";
import { hyperfineTransitions } from "./hyperfine.ts";
import { checkState } from "./state.ts";
import { dopplerWidth, lineWidths } from "./widths.ts";

/**
 * Every component of every listed line of the element, in the order of the table, complete enough to recompute the
 * susceptibility: χ = Σ N·population·f·weight·e²/(2 m_e ε0 ω_q)·[(i√π/σ) w(z) + 1/(ω_q + ω)].
 *
 * "hyperfine": one component per isotope and F → F′; lines whose upper level has no published constants keep the
 * splitting of the ground state alone; isotopes without published constants or shift fall on the line's centre and
 * differ by their Doppler width only. "merged": one component per line at the abundance-weighted centre.
 *
 * @throws Refusal for an unknown element, and for density or temperature that is no positive number
 */
export function vapourComponents(state: VapourState): readonly LineComponent[] {
  checkState(state);
  return linesOf(state.element).flatMap((line) => lineComponents(line, state));
}

/** Components of one line; their weights sum to 1. */
export function lineComponents(line: Line, state: VapourState): readonly LineComponent[] {
  const widths = lineWidths(line, state);
  const common = {
    line: line.id,
    oscillatorStrength: state.overrides?.oscillatorStrength?.[line.id] ?? line.oscillatorStrength,
    population: lowerPopulation(line, state.temperature),
    lorentzWidth: widths.lorentz,
    shift: widths.shift,
  };
  const mixture = isotopeMixture(state.element, state.overrides?.abundance);
  const centres = isotopeCentres(line, mixture);
  if (state.structure === "merged") {
    const centre = mixture.reduce((sum, { share }, k) => sum + share * centres[k], 0);
    const sigma = dopplerWidth(2 * Math.PI * centre, state.temperature, meanMass(state.element, mixture));
    return [
      {
        ...common,
        isotope: state.element,
        wavelength: SPEED_OF_LIGHT / centre,
        weight: 1,
        dopplerWidth: sigma,
      },
    ];
  }
  return mixture.flatMap(({ isotope, share }, k) =>
    splitting(line, isotope).map(({ offset, weight }) => {
      const frequency = centres[k] + offset;
      const sigma = dopplerWidth(2 * Math.PI * frequency, state.temperature, isotope.mass.value);
      return {
        ...common,
        isotope: isotope.isotope,
        wavelength: SPEED_OF_LIGHT / frequency,
        weight: share * weight,
        dopplerWidth: sigma,
      };
    }),
  );
}

interface Portion {
  readonly isotope: Isotope;
  /** atom fraction; the shares of a mixture sum to 1 */
  readonly share: number;
}

/** Isotopes that are present, shares scaled to sum 1. */
export function isotopeMixture(
  element: string,
  stated?: Readonly<Record<string, number>>,
): readonly Portion[] {
  const known = isotopesOf(element);
  for (const [name, value] of Object.entries(stated ?? {})) {
    const refuse = (received: string, expected: string) =>
      new Refusal({ code: "bad-abundance", field: `abundance.${name}`, received, expected });
    if (!known.some((each) => each.isotope === name)) {
      throw refuse(`"${name}"`, `an isotope of ${element}: ${known.map((each) => each.isotope).join(", ")}`);
    }
    if (!(value >= 0 && value < Infinity)) throw refuse(String(value), "an atom fraction of 0 or more");
  }
  const raw = known.map((isotope) => ({
    isotope,
    share: stated === undefined ? isotope.abundance.value : (stated[isotope.isotope] ?? 0),
  }));
  const total = raw.reduce((sum, each) => sum + each.share, 0);
  if (total === 0) {
    throw new Refusal({
      code: "bad-abundance",
      field: "abundance",
      received: "no isotope at all",
      expected: `a fraction above 0 for one of ${known.map((each) => each.isotope).join(", ")}`,
    });
  }
  return raw.filter((each) => each.share > 0).map((each) => ({ ...each, share: each.share / total }));
}

function meanMass(element: string, mixture: readonly Portion[]): number {
  const sum = mixture.reduce((total, { isotope, share }) => total + share * isotope.mass.value, 0);
  return sum === 0 ? meanMassOf(element) : sum;
}

const upperLevel = (isotope: Isotope, line: Line): HyperfineLevel | undefined =>
  isotope.levels.find((level) => level.label === line.upper.label);

/**
 * Centre frequency of the line in each isotope, Hz: its own published wavelength, or another isotope's with the
 * published shift, or the line's wavelength in the natural mixture.
 */
function isotopeCentres(line: Line, mixture: readonly Portion[]): readonly number[] {
  const natural = SPEED_OF_LIGHT / line.wavelength;
  const all = isotopesOf(line.element);
  const shifts = isotopeShiftsOf(line.element).filter((each) => line.name.startsWith(each.line));
  const own = (name: string): number | undefined => {
    const isotope = all.find((each) => each.isotope === name);
    const wavelength = isotope && upperLevel(isotope, line)?.wavelengthFromGround?.value;
    return wavelength === undefined ? undefined : SPEED_OF_LIGHT / wavelength;
  };
  return mixture.map(({ isotope: { isotope } }) => {
    const direct = own(isotope);
    if (direct !== undefined) return direct;
    for (const { from, to, shift } of shifts) {
      const start = isotope === to ? own(from) : undefined;
      if (start !== undefined) return start + shift.value;
      const end = isotope === from ? own(to) : undefined;
      if (end !== undefined) return end - shift.value;
    }
    return natural;
  });
}

function constants(level: HyperfineLevel): HyperfineConstants {
  return {
    a: level.a.value,
    ...(level.b === undefined ? {} : { b: level.b.value }),
    ...(level.c === undefined ? {} : { c: level.c.value }),
  };
}

function splitting(line: Line, isotope: Isotope): readonly { offset: number; weight: number }[] {
  const lower = isotope.levels.find((level) => level.label === line.lower.label);
  if (lower === undefined) return [{ offset: 0, weight: 1 }];
  const upper = upperLevel(isotope, line);
  return hyperfineTransitions(
    isotope.spin,
    line.jLower,
    line.jUpper,
    constants(lower),
    upper === undefined ? undefined : constants(upper),
  );
}

/**
 * Share of the atoms in the line's lower level at temperature T: g e^(−E/k_B T)/Z, Z summed over the ground level and
 * every lower level of the element's listed lines. Levels that start no listed line are left out (for the elements of
 * the tables they lie above 1 eV, under 10⁻⁶ of the atoms below 1000 K, Ba's 5d excepted: below 10⁻⁴).
 */
export function lowerPopulation(line: Line, temperature: number): number {
  const levels = new Map<string, number>();
  for (const each of linesOf(line.element)) {
    levels.set(each.lower.label, each.gLower * exp(-each.lowerEnergy / (BOLTZMANN * temperature)));
  }
  const sum = [...levels.values()].reduce((total, share) => total + share, 0);
  return levels.get(line.lower.label)! / sum;
}
