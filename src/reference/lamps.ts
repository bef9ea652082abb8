/** Calibration lamps and Fraunhofer letters, from data/lamps.json. */
import data from "../../data/lamps.json" with { type: "json" };
import { Refusal } from "../quantity/index.ts";
import type { Origin, SourcedValue } from "./record.ts";
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

/** Warnings that belong to the table of lamp lines. */
export const LAMP_WARNINGS: readonly string[] = data.warnings;
