/** The resonance lines of the metals, from data/lines.json, with every published strength and the default chosen. */
import choices from "../../data/choices.json" with { type: "json" };
import data from "../../data/lines.json" with { type: "json" };
import { Refusal } from "../quantity/index.ts";
import { PLANCK, SPEED_OF_LIGHT } from "./constants.ts";
import type { Json, Origin, SourcedValue } from "./record.ts";
import {
  computed,
  finite,
  groupBy,
  halfInteger,
  list,
  optionalSourced,
  record,
  sourced,
  text,
} from "./record.ts";
import { einsteinA, strengthOfEinsteinA, strengthOfMatrixElement } from "./strengths.ts";

export interface LineLevel {
  /** e.g. "4p" */
  readonly configuration: string;
  /** e.g. "2P*", the star for odd parity */
  readonly term: string;
  readonly j: number;
  /** 2J + 1 */
  readonly g: number;
  /** above the ground state, J */
  readonly energy: number;
  /** as hyperfine data name it, e.g. "4p 2P3/2" */
  readonly label: string;
}

/** One published strength of a line. */
export interface StrengthChoice {
  /** key of the source in data/lines.json: "published" for the main entry, e.g. "second_source", "alternative" */
  readonly key: string;
  /** absorption oscillator strength, 1 */
  readonly value: number;
  /** standard uncertainty, 1; undefined where none is published */
  readonly uncertainty: number | undefined;
  readonly source: string;
  readonly origin: Origin;
}

export interface Line {
  /** e.g. "KI-766.70vac" */
  readonly id: string;
  /** element symbol */
  readonly element: string;
  /** e.g. "D2", "second doublet" */
  readonly name: string;
  /** vacuum wavelength, m */
  readonly wavelength: number;
  /** standard air, m; undefined below 200 nm */
  readonly airWavelength: number | undefined;
  /** absorption oscillator strength, the default of `alternatives`, 1 */
  readonly oscillatorStrength: number;
  /** standard uncertainty of the default strength, 1; undefined where none is published */
  readonly strengthUncertainty: number | undefined;
  readonly lower: LineLevel;
  readonly upper: LineLevel;
  readonly gLower: number;
  readonly gUpper: number;
  readonly jLower: number;
  readonly jUpper: number;
  /** lower level above the ground state, J */
  readonly lowerEnergy: number;
  /** Einstein A of this line that belongs to the default strength, 1/s */
  readonly einsteinA: number;
  /** total decay rate of the upper level, 1/s; this line's A where no total is published (then a lower bound) */
  readonly upperDecayRate: number;
  /** every published strength, the default first */
  readonly alternatives: readonly StrengthChoice[];
  /** why the default is not the main entry of the table, where it is not */
  readonly choiceReason: string | undefined;
  /** where the numbers come from */
  readonly sources: {
    readonly wavelength: SourcedValue;
    readonly strength: StrengthChoice;
    readonly upperDecayRate: SourcedValue;
  };
}

function level(value: unknown, where: string): LineLevel {
  const raw = record(value, where);
  const configuration = text(raw["configuration"], where);
  const term = text(raw["term"], where);
  const wavenumber = record(raw["energy"], `${where} energy`);
  return {
    configuration,
    term,
    j: halfInteger(raw["J"], where),
    g: finite(raw["g"], where),
    energy: finite(wavenumber["value"], where) * 100 * PLANCK * SPEED_OF_LIGHT,
    label: `${configuration} ${term.replace("*", "")}${text(raw["J"], where)}`,
  };
}

/** Morton's error is in dex of f, written "33E-5" or "0.03"; the standard uncertainty follows to first order. */
function publishedUncertainty(raw: Json, f: number): number | undefined {
  const accuracy = raw["accuracy"] as Json | undefined;
  const dex = Number(accuracy?.["value"] ?? Number.NaN);
  return Number.isFinite(dex) ? f * Math.LN10 * dex : undefined;
}

function alternativesOf(
  raw: Json,
  id: string,
  wavelength: number,
  gLower: number,
  gUpper: number,
): StrengthChoice[] {
  const published = sourced(raw["f_absorption"], `${id} f_absorption`);
  const found: StrengthChoice[] = [
    {
      key: "published",
      value: published.value,
      uncertainty: publishedUncertainty(raw, published.value),
      source: published.source,
      origin: published.origin,
    },
  ];
  const fromA = (key: string, a: SourcedValue): StrengthChoice => {
    const perA = strengthOfEinsteinA(1, wavelength, gLower, gUpper);
    const uncertainty = a.uncertainty === undefined ? undefined : perA * a.uncertainty;
    return { key, value: perA * a.value, uncertainty, source: a.source, origin: a.origin };
  };
  for (const key of ["second_source", "third_source", "fourth_source", "isotope_resolved_source"]) {
    if (raw[key] === undefined) continue;
    const where = `${id} ${key}`;
    const other = record(raw[key], where);
    const f = optionalSourced(other["f_absorption"], where);
    const lifetime = optionalSourced(other["lifetime"], where);
    const a = optionalSourced(other["A"], where);
    if (f !== undefined) {
      const { value, uncertainty, source, origin } = f;
      found.push({ key, value, uncertainty, source, origin });
    } else if (lifetime !== undefined) {
      const rate = 1 / lifetime.value;
      const uncertainty = lifetime.uncertainty === undefined ? undefined : rate * rate * lifetime.uncertainty;
      found.push(fromA(key, { ...lifetime, value: rate, uncertainty }));
    } else if (a !== undefined) found.push(fromA(key, a));
  }
  if (raw["alternative"] !== undefined) {
    const where = `${id} alternative`;
    const other = record(raw["alternative"], where);
    const element = finite(other["matrix_element_au"], where);
    const value = strengthOfMatrixElement(element, wavelength, gLower);
    const relative = (2 * finite(other["matrix_element_uncertainty_au"], where)) / element;
    found.push({
      key: "alternative",
      value,
      uncertainty: relative * value,
      source: text(other["source"], where),
      origin: "computed",
    });
  }
  return found;
}

const CHOICES: ReadonlyMap<string, { strength: string; reason: string }> = new Map(
  choices.entries.map((choice) => [choice.line, choice]),
);

function line(entry: unknown, i: number): Line {
  const raw = record(entry, `lines.json entry ${i}`);
  const id = text(raw["id"], `lines.json entry ${i}`);
  const wavelength = sourced(raw["wavelength_vacuum"], `${id} wavelength_vacuum`);
  const lower = level(raw["lower"], `${id} lower`);
  const upper = level(raw["upper"], `${id} upper`);
  const all = alternativesOf(raw, id, wavelength.value, lower.g, upper.g);
  const choice = CHOICES.get(id);
  const strength = all.find((candidate) => candidate.key === (choice?.strength ?? "published"));
  if (strength === undefined) throw new Error(`reference data, choices.json ${id}: no such strength`);
  const a = einsteinA(strength.value, wavelength.value, lower.g, upper.g);
  return {
    id,
    element: text(raw["species"], id).split(" ")[0],
    name: text(raw["line"], id),
    wavelength: wavelength.value,
    airWavelength: optionalSourced(raw["wavelength_air"], `${id} wavelength_air`)?.value,
    oscillatorStrength: strength.value,
    strengthUncertainty: strength.uncertainty,
    lower,
    upper,
    gLower: lower.g,
    gUpper: upper.g,
    jLower: lower.j,
    jUpper: upper.j,
    lowerEnergy: lower.energy,
    einsteinA: a,
    upperDecayRate: decayRate(raw, id, a, choice !== undefined).value,
    alternatives: [strength, ...all.filter((other) => other !== strength)],
    choiceReason: choice?.reason,
    sources: { wavelength, strength, upperDecayRate: decayRate(raw, id, a, choice !== undefined) },
  };
}

/** Where a level decays by one line only, its rate must follow the strength that was chosen for that line. */
function decayRate(raw: Json, id: string, a: number, chosen: boolean): SourcedValue {
  const published = optionalSourced(
    raw["upper_level_total_decay_rate"],
    `${id} upper_level_total_decay_rate`,
  );
  const publishedA = optionalSourced(raw["A"], `${id} A`);
  const onlyLine = published !== undefined && published.value === publishedA?.value;
  if (published !== undefined && !(chosen && onlyLine)) return published;
  const note = onlyLine
    ? "the only decay of the level: follows the chosen strength"
    : "this line's Einstein A alone, no total decay rate is published: a lower bound";
  return computed(a, "s-1", "A = (g_l/g_u) f 8 pi^2 r_e c/lambda^2", { note });
}

/** Every stored line. */
export const LINES: readonly Line[] = list(data.entries, "lines.json").map(line);

const BY_ELEMENT = groupBy(LINES, (each) => each.element);

/** Symbols of the elements that have lines, in the order of the table. */
export const ELEMENTS: readonly string[] = [...BY_ELEMENT.keys()];

/** Refuses an element that the tables do not hold; otherwise gives it back. */
export function knownElement(element: string, field = "element"): string {
  if (BY_ELEMENT.has(element)) return element;
  const near = ELEMENTS.find((known) => known.toLowerCase() === element.toLowerCase());
  throw new Refusal({
    code: "unknown-element",
    field,
    received: `"${element}"`,
    expected: `one of ${ELEMENTS.join(", ")}`,
    ...(near === undefined ? {} : { hint: `write "${near}"` }),
  });
}

/** Lines of an element, in the order of the table (strong pair first). Refuses an unknown element. */
export function linesOf(element: string, field = "element"): readonly Line[] {
  return BY_ELEMENT.get(knownElement(element, field))!;
}

/** The line with this id. Refuses an unknown id. */
export function lineById(id: string, field = "line"): Line {
  const found = LINES.find((candidate) => candidate.id === id);
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-line",
    field,
    received: `"${id}"`,
    expected: `a line id such as "${LINES[0].id}"`,
  });
}
