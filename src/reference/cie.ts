/** CIE 1931 2° colour-matching functions and illuminant D65 at 5 nm, from data/cie.json. */
import data from "../../data/cie.json" with { type: "json" };
import { toCoherent } from "../quantity/index.ts";
import type { Origin } from "./record.ts";
import { finites, list, originOf, record, text } from "./record.ts";

export interface ColourMatching {
  /** m, ascending, evenly spaced */
  readonly wavelengths: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly source: string;
  readonly origin: Origin;
}

export interface Illuminant {
  /** m, ascending, evenly spaced */
  readonly wavelengths: Float64Array;
  /** 100 at 560 nm */
  readonly power: Float64Array;
  readonly source: string;
  readonly origin: Origin;
}

function columns(id: string): { column: (i: number) => Float64Array; source: string; origin: Origin } {
  const where = `cie.json ${id}`;
  const raw = list(data.entries, "cie.json")
    .map((each) => record(each, where))
    .find((each) => each["id"] === id);
  if (raw === undefined) throw new Error(`reference data, ${where} is missing`);
  const rows = list(raw["data"], where).map((row) => finites(row, where));
  return {
    column: (i) => Float64Array.from(rows, (row) => row[i]),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
  };
}

const metres = (nanometres: Float64Array): Float64Array => nanometres.map((nm) => toCoherent(nm, "nm"));

/** CIE 1931 standard colorimetric observer. */
export function cie1931(): ColourMatching {
  const { column, source, origin } = columns("cie1931-2deg-5nm");
  return { wavelengths: metres(column(0)), x: column(1), y: column(2), z: column(3), source, origin };
}

/** CIE standard illuminant D65. */
export function illuminantD65(): Illuminant {
  const { column, source, origin } = columns("cie-d65-5nm");
  return { wavelengths: metres(column(0)), power: column(1), source, origin };
}
