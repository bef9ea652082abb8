/** Calibration lamps, Fraunhofer letters, arcs and bands, from data/lamps.json. */
import data from "../../data/lamps.json" with { type: "json" };
import { Refusal, toCoherent } from "../quantity/index.ts";
import type { Json, Origin, SourcedValue } from "./record.ts";
import {
  finite,
  groupBy,
  list,
  optionalSourced,
  optionalText,
  originOf,
  record,
  sourced,
  text,
} from "./record.ts";

export interface LampLine {
  /** element symbol of the lamp */
  readonly element: string;
  /** wavelength in standard air, m */
  readonly airWavelength: SourcedValue;
  /** arbitrary units within one element; undefined where none is stored */
  readonly relativeIntensity: number | undefined;
  readonly note: string | undefined;
}

export interface FraunhoferLetter {
  readonly letter: string;
  /** m, standard air */
  readonly airWavelength: number;
  readonly element: string;
  readonly source: string;
  readonly origin: Origin;
}

/** Stored lamp lines. */
export const LAMP_LINES: readonly LampLine[] = list(data.entries, "lamps.json").map((each, i) => {
  const where = `lamps.json entry ${i}`;
  const raw = record(each, where);
  return {
    element: text(raw["element"], where),
    airWavelength: sourced(raw["wavelength_air"], where, raw),
    relativeIntensity: optionalSourced(raw["relative_intensity"], where, raw)?.value,
    note: optionalText(raw["note"]),
  };
});

const BY_ELEMENT = groupBy(LAMP_LINES, (line) => line.element);

/** Elements for which lamp lines are stored. */
export const LAMP_ELEMENTS: readonly string[] = [...BY_ELEMENT.keys()];

/** Lines of a lamp, ascending in wavelength. Refuses an element without stored lines. */
export function lampLines(element: string, field = "lamp"): readonly LampLine[] {
  const found = BY_ELEMENT.get(element);
  if (found === undefined) {
    throw new Refusal({
      code: "unknown-lamp",
      field,
      received: `"${element}"`,
      expected: `one of ${LAMP_ELEMENTS.join(", ")}`,
    });
  }
  return [...found].sort((a, b) => a.airWavelength.value - b.airWavelength.value);
}

export const FRAUNHOFER: readonly FraunhoferLetter[] = list(data.fraunhofer_letters, "lamps.json").map(
  (each, i) => {
    const where = `lamps.json fraunhofer_letters ${i}`;
    const raw = record(each, where);
    return {
      letter: text(raw["letter"], where),
      // Scaling the decimal digits keeps 587.5618 nm exact.
      airWavelength: Number(`${finite(raw["wavelength_air_nm"], where)}e-9`),
      element: text(raw["element"], where),
      source: text(raw["source"], where),
      origin: originOf(raw["origin"], where),
    };
  },
);

const BANDS: ReadonlyMap<string, Json> = new Map(
  list(data.continuum_and_bands, "lamps.json").map((each, i) => {
    const raw = record(each, `lamps.json continuum_and_bands ${i}`);
    return [text(raw["id"], `lamps.json continuum_and_bands ${i}`), raw];
  }),
);

function band(id: string): Json {
  return record(BANDS.get(id), `lamps.json ${id}`);
}

/** Radiance temperature of the carbon arc's positive crater, K. */
export const CARBON_ARC_TEMPERATURE: SourcedValue = sourced(
  band("carbon-arc-crater"),
  "lamps.json carbon-arc-crater",
);

/** Band heads, m in air, with their vibrational quantum numbers: CN violet system or C2 Swan system. */
export function bandHeads(
  id: "CN-violet-bands" | "C2-swan-bands",
): readonly { wavelength: number; transition: string }[] {
  const where = `lamps.json ${id}`;
  return list(band(id)["value"], where).map((each) => {
    const [nanometres, transition] = list(each, where);
    return { wavelength: toCoherent(finite(nanometres, where), "nm"), transition: text(transition, where) };
  });
}

/** Coefficients of ε = c0 + c1 L + c2 T + c3 L T (L in µm, T in K) on a range of L, for tungsten. */
export interface EmissivityBranch {
  /** m */
  readonly wavelengthMin: number;
  readonly wavelengthMax: number;
  readonly coefficients: readonly [number, number, number, number];
}

/** Normal spectral emissivity of tungsten (Pon & Hessler 1984, fit to Larrabee 1959), in three branches. */
export function tungstenEmissivity(): readonly EmissivityBranch[] {
  const where = "lamps.json tungsten-emissivity";
  return list(band("tungsten-emissivity")["formula"], where).map((each) => {
    const raw = record(each, where);
    const [from, to] = list(raw["range_um"], where);
    const form = text(raw["eps"], where).replace(/\s+/g, "");
    const match =
      /^([+-]?[\d.e-]+?)([+-][\d.]+(?:e-\d+)?)L([+-][\d.]+(?:e-\d+)?)T([+-][\d.]+(?:e-\d+)?)LT$/.exec(form);
    if (match === null) throw new Error(`reference data, ${where}: "${form}" is not of the known form`);
    return {
      wavelengthMin: toCoherent(finite(from, where), "um"),
      wavelengthMax: toCoherent(finite(to, where), "um"),
      coefficients: [Number(match[1]), Number(match[2]), Number(match[3]), Number(match[4])],
    };
  });
}

/** Warnings that belong to the table of lamp lines. */
export const LAMP_WARNINGS: readonly string[] = data.warnings;
