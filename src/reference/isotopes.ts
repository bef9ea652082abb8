/** Isotopes, masses, spins, hyperfine constants and isotope shifts, from data/hyperfine.json. */
import data from "../../data/hyperfine.json" with { type: "json" };
import type { SourcedValue } from "./record.ts";
import { finite, groupBy, halfInteger, list, optionalSourced, record, sourced, text } from "./record.ts";

export interface HyperfineLevel {
  /** e.g. "4p 2P3/2"; equals `Line.upper.label` or `Line.lower.label` of the lines that it belongs to */
  readonly label: string;
  readonly j: number;
  /** magnetic dipole constant, Hz */
  readonly a: SourcedValue;
  /** electric quadrupole constant, Hz; undefined where J < 1 or none is stored */
  readonly b: SourcedValue | undefined;
  /** magnetic octupole constant, Hz */
  readonly c: SourcedValue | undefined;
  /** vacuum wavelength from the centroid of the ground state, m */
  readonly wavelengthFromGround: SourcedValue | undefined;
  /** s */
  readonly lifetime: SourcedValue | undefined;
}

export interface Isotope {
  /** e.g. "39K" */
  readonly isotope: string;
  readonly element: string;
  readonly massNumber: number;
  /** nuclear spin I */
  readonly spin: number;
  /** kg */
  readonly mass: SourcedValue;
  /** atom fraction in nature, 1; of one element they sum to 1 within the published digits */
  readonly abundance: SourcedValue;
  /** empty where no hyperfine constants are stored */
  readonly levels: readonly HyperfineLevel[];
}

/** Shift of a line between two isotopes: frequency of `to` minus frequency of `from`. */
export interface IsotopeShift {
  readonly from: string;
  readonly to: string;
  /** e.g. "D1" */
  readonly line: string;
  /** Hz */
  readonly shift: SourcedValue;
}

function level(value: unknown, where: string): HyperfineLevel {
  const raw = record(value, where);
  const label = text(raw["level"], where);
  const at = `${where} ${label}`;
  return {
    label,
    j: halfInteger(raw["J"], at),
    a: sourced(raw["A"], `${at} A`),
    b: optionalSourced(raw["B"], `${at} B`),
    c: optionalSourced(raw["C"], `${at} C`),
    wavelengthFromGround: optionalSourced(raw["vacuum_wavelength_from_ground_centroid"], `${at} wavelength`),
    lifetime: optionalSourced(raw["lifetime"], `${at} lifetime`),
  };
}

function isotope(value: unknown, where: string, given?: string): Isotope {
  const raw = record(value, where);
  const massNumber = finite(raw["mass_number"], where);
  const name = given === undefined ? text(raw["isotope"], where) : `${massNumber}${given}`;
  return {
    isotope: name,
    element: name.replace(/^\d+/, ""),
    massNumber,
    spin: halfInteger(raw["nuclear_spin_I"], where),
    mass: sourced(raw["mass"], `${where} mass`),
    abundance: sourced(raw["abundance"], `${where} abundance`),
    levels:
      raw["levels"] === undefined
        ? []
        : list(raw["levels"], where).map((each) => level(each, `${where} ${name}`)),
  };
}

const withLevels = list(data.entries, "hyperfine.json").map((each, i) =>
  isotope(each, `hyperfine.json entry ${i}`),
);
const without = list(data.other_species_isotopes, "hyperfine.json").flatMap((group, i) => {
  const where = `hyperfine.json other species ${i}`;
  const raw = record(group, where);
  return list(raw["isotopes"], where).map((each) => isotope(each, where, text(raw["species"], where)));
});

/** Every stored isotope. */
export const ISOTOPES: readonly Isotope[] = [...withLevels, ...without];

const BY_ELEMENT = groupBy(ISOTOPES, (each) => each.element);

export const ISOTOPE_SHIFTS: readonly IsotopeShift[] = list(data.isotope_shifts, "hyperfine.json").map(
  (each, i) => {
    const where = `hyperfine.json isotope shift ${i}`;
    const raw = record(each, where);
    const [from, to] = text(raw["pair"], where).split(" -> ");
    return { from, to, line: text(raw["line"], where), shift: sourced(raw, where) };
  },
);

/** Isotopes of an element, lightest first; empty for an element without stored isotopes. */
export function isotopesOf(element: string): readonly Isotope[] {
  return BY_ELEMENT.get(element) ?? [];
}

/** Isotope shifts of an element's lines; empty where none are stored. */
export function isotopeShiftsOf(element: string): readonly IsotopeShift[] {
  return ISOTOPE_SHIFTS.filter((shift) => shift.from.replace(/^\d+/, "") === element);
}

/** Mean mass of an atom in the natural mixture, kg. An element without stored isotopes is a fault of the program. */
export function meanMassOf(element: string): number {
  const isotopes = isotopesOf(element);
  if (isotopes.length === 0) throw new Error(`reference data, hyperfine.json: no isotopes of ${element}`);
  const total = isotopes.reduce((sum, each) => sum + each.abundance.value, 0);
  return isotopes.reduce((sum, each) => sum + each.abundance.value * each.mass.value, 0) / total;
}
