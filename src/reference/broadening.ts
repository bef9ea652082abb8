/** Collisional widths and shifts, from data/broadening.json. */
import data from "../../data/broadening.json" with { type: "json" };
import { LOSCHMIDT } from "./constants.ts";
import type { Json, Origin, SourcedValue } from "./record.ts";
import { list, optionalSourced, optionalText, originOf, record, text } from "./record.ts";

/**
 * Broadening of one line by one gas. Widths are full widths at half maximum in cyclic frequency. Per-pressure figures
 * hold at `referenceTemperature`; per-density figures are given where the source counts in densities.
 */
export interface ForeignGasRecord {
  /** element symbol */
  readonly atom: string;
  /** "D1" or "D2" */
  readonly line: string;
  /** gas as named by the source, e.g. "Ar", "4He" */
  readonly gas: string;
  /** FWHM per pressure, Hz/Pa */
  readonly widthPerPressure: SourcedValue | undefined;
  /** FWHM per gas density, Hz·m³ */
  readonly widthPerDensity: SourcedValue | undefined;
  /** shift of the centre per pressure, Hz/Pa, positive to the blue */
  readonly shiftPerPressure: SourcedValue | undefined;
  /** shift per gas density, Hz·m³ */
  readonly shiftPerDensity: SourcedValue | undefined;
  /** K */
  readonly referenceTemperature: number | undefined;
  /** n of width/density ∝ T^n */
  readonly widthExponent: SourcedValue | undefined;
  readonly shiftExponent: SourcedValue | undefined;
  readonly source: string;
  readonly origin: Origin;
  /** "low", "medium", … where the figure is from memory */
  readonly confidence: string | undefined;
  /** what must be said beside the figure */
  readonly caution: string | undefined;
}

export interface SelfBroadeningRecord {
  /** e.g. "Rb D1" */
  readonly line: string;
  /** FWHM per density of the metal, cyclic, Hz·m³ */
  readonly widthPerDensity: SourcedValue;
}

const PER_AMAGAT = "GHz per amagat";

/** Per-density values stored per amagat or as an angular rate are brought to Hz·m³ (cyclic). */
function perDensity(value: unknown, where: string, given: Json, factor: number): SourcedValue | undefined {
  if (value === undefined) return undefined;
  const raw = record(value, where);
  if (raw["value"] === null || typeof raw["value"] !== "number") return undefined;
  const unit = text(raw["unit"], where);
  const scale = unit.startsWith(PER_AMAGAT) ? 1e9 / LOSCHMIDT : factor * 1e-6;
  const uncertainty = raw["uncertainty"];
  return {
    value: raw["value"] * scale,
    uncertainty: typeof uncertainty === "number" ? uncertainty * scale : undefined,
    statedUnit: unit,
    stated: raw["value"],
    source: text(raw["source"] ?? given["source"], where),
    origin: originOf(raw["origin"] ?? given["origin"], where),
    note: optionalText(raw["derivation"]),
  };
}

const isPerAmagat = (value: unknown): boolean =>
  typeof value === "object" && value !== null && String((value as Json)["unit"]).startsWith(PER_AMAGAT);

function exponent(value: unknown, where: string): SourcedValue | undefined {
  if (value === undefined || typeof record(value, where)["value"] !== "number") return undefined;
  return optionalSourced(value, where);
}

function read(value: unknown, i: number): ForeignGasRecord | undefined {
  const where = `broadening.json foreign_gas ${i}`;
  const raw = record(value, where);
  const width = raw["broadening_FWHM"];
  const shift = raw["shift"];
  // gamma_over_N is read as an angular half width (see its caution): cyclic FWHM = 2γ/2π.
  const angularHalf = 1 / Math.PI;
  const widthPerDensity = isPerAmagat(width)
    ? perDensity(width, where, raw, 1)
    : (perDensity(raw["gamma_over_N"], where, raw, angularHalf) ??
      perDensity(raw["broadening_per_density"], where, raw, 1));
  const widthPerPressure = isPerAmagat(width) ? undefined : optionalSourced(width, where);
  if (widthPerPressure === undefined && widthPerDensity === undefined) return undefined;
  const reference = raw["T_reference"] === undefined ? undefined : record(raw["T_reference"], where)["value"];
  return {
    atom: text(raw["atom"], where),
    line: text(raw["line"], where),
    gas: text(raw["gas"], where),
    widthPerPressure,
    widthPerDensity,
    shiftPerPressure: isPerAmagat(shift) ? undefined : optionalSourced(shift, where),
    shiftPerDensity: isPerAmagat(shift)
      ? perDensity(shift, where, raw, 1)
      : perDensity(raw["shift_over_N"], where, raw, 1 / (2 * Math.PI)),
    referenceTemperature: typeof reference === "number" ? reference : undefined,
    widthExponent: exponent(raw["temperature_exponent_n"], where),
    shiftExponent: exponent(raw["shift_temperature_exponent"], where),
    source: text(raw["source"], where),
    origin: originOf(raw["origin"], where),
    confidence: optionalText(raw["confidence"]),
    caution: optionalText(raw["definition_caution"]),
  };
}

/** Every stored foreign-gas figure that gives a width. */
export const FOREIGN_GAS: readonly ForeignGasRecord[] = list(data.foreign_gas, "broadening.json").flatMap(
  (each, i) => read(each, i) ?? [],
);

/** Foreign-gas figures of an element's lines; empty where nothing is stored (see `BROADENING_GAPS`). */
export function foreignGasWidths(atom: string): readonly ForeignGasRecord[] {
  return FOREIGN_GAS.filter((each) => each.atom === atom);
}

/** Measured self-broadening. */
export const SELF_BROADENING: readonly SelfBroadeningRecord[] = list(
  data.self_broadening_measured,
  "broadening.json",
).flatMap((each, i) => {
  const raw = record(each, `broadening.json self_broadening_measured ${i}`);
  const widthPerDensity = perDensity(raw, `broadening.json self ${i}`, raw, 1);
  return widthPerDensity === undefined
    ? []
    : [{ line: text(raw["line"], `broadening.json self ${i}`), widthPerDensity }];
});

/** Measured self-broadening of a line such as "Rb D1"; undefined where only theory exists. */
export function measuredSelfBroadening(line: string): SelfBroadeningRecord | undefined {
  return SELF_BROADENING.find((each) => each.line === line);
}

/** What could not be found: say it where a width is guessed. */
export const BROADENING_GAPS: readonly string[] = data.gaps;
