/**
 * Text with a unit → SI number. The only door by which written quantities come in; `format.ts` is the way back.
 */
import type { Dimension } from "./dimension.ts";
import { dimensionCode, sameDimension } from "./dimension.ts";
import { addDecimal, lastPlace, scaleDecimal } from "./decimal.ts";
import { expectationOf } from "./expectation.ts";
import { Refusal } from "./refusal.ts";
import type { ParsedUnit } from "./unit-text.ts";
import { parseUnit, plainText, UnitFault } from "./unit-text.ts";
import { nearestUnit } from "./units.ts";

export interface AnyQuantity {
  /** SI-coherent value */
  readonly value: number;
  readonly dimension: Dimension;
  /** SI unit as a UCUM code of base units, e.g. "m-1.kg.s-2" */
  readonly unit: string;
}

export interface UncertainQuantity {
  readonly value: number;
  /** in the unit of the value; undefined when the text gives none */
  readonly standardUncertainty: number | undefined;
}

interface Written {
  readonly digits: string;
  readonly uncertainty: string | undefined;
  readonly unit: string;
}

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)`;
const EXPONENT = String.raw`(?:[eE]([+-]?\d+)|\s*[×x*·]\s*10(?:\^|\*\*)([+-]?\d+))?`;
const PLAIN = new RegExp(String.raw`^(${NUMBER})(?:\((\d+\.?\d*)\))?${EXPONENT}\s*(.*)$`, "s");
const PLUS_MINUS = new RegExp(
  String.raw`^(\(?)\s*(${NUMBER})\s*(?:±|\+\/-)\s*(${NUMBER})\s*(\)?)${EXPONENT}\s*(.*)$`,
  "s",
);

function split(text: string): Written | undefined {
  const clean = plainText(text).replace(/(?:\bdeg|°)\s+([CF])$/, "deg$1");
  const both = PLUS_MINUS.exec(clean);
  if (both !== null && (both[1] === "(") === (both[4] === ")")) {
    const power = both[5] ?? both[6] ?? "0";
    return { digits: `${both[2]}e${power}`, uncertainty: `${both[3]}e${power}`, unit: both[7] };
  }
  // "10^19 m-3" and "10¹⁹ m⁻³": a power alone
  const one = PLAIN.exec(clean.replace(/^([+-]?)10(?:\^|\*\*)([+-]?\d+)/, "$11e$2"));
  if (one === null) return undefined;
  const digits = `${one[1]}e${one[3] ?? one[4] ?? "0"}`;
  const inBrackets = one[2];
  if (inBrackets === undefined) return { digits, uncertainty: undefined, unit: one[5] };
  // "25(1)" counts in the last place written; "25.0(1.2)" says its own decimals.
  const uncertainty = inBrackets.includes(".")
    ? `${inBrackets}e${one[3] ?? one[4] ?? "0"}`
    : `${inBrackets}e${lastPlace(digits)}`;
  return { digits, uncertainty, unit: one[5] };
}

function toSI(digits: string, unit: ParsedUnit): number {
  const scaled = scaleDecimal(digits, unit.power);
  const value = unit.coefficient === 1 ? scaled : scaled * unit.coefficient;
  return unit.offset === 0 ? value : addDecimal(value, unit.offset);
}

/** As the person wrote it; a very long text shortened. */
const quoted = (text: string): string => (text.length > 80 ? `"${text.slice(0, 79)}…"` : `"${text}"`);

function readUnit(text: string, written: Written, expected: string, field: string): ParsedUnit {
  try {
    return parseUnit(written.unit);
  } catch (fault) {
    if (!(fault instanceof UnitFault)) throw fault;
    const near = fault.symbol === undefined ? undefined : nearestUnit(fault.symbol);
    const comma = /^,\d/.test(written.unit);
    const hint = comma
      ? "write the decimal mark as a point"
      : near === undefined
        ? fault.message
        : `${fault.message}, the nearest known one is ${quoted(near)}`;
    throw new Refusal({ code: "unknown-unit", field, received: quoted(text), expected, hint });
  }
}

function read(text: string, expected: string, field: string): { written: Written; unit: ParsedUnit } {
  const written = split(text);
  if (written === undefined) {
    throw new Refusal({ code: "no-number", field, received: quoted(text), expected });
  }
  const unit = readUnit(text, written, expected, field);
  if (!Number.isFinite(toSI(written.digits, unit))) {
    const hint = "the number is too large";
    throw new Refusal({ code: "number-too-large", field, received: quoted(text), expected, hint });
  }
  return { written, unit };
}

function wrongKind(written: string, unit: ParsedUnit, wanted: string): string {
  if (written === "") return "the unit is missing";
  if (wanted === "K" && /^[CF]$/.test(written))
    return `write "deg${written}": "${written}" is an electrical unit`;
  return `${quoted(written)} has the dimension ${dimensionCode(unit.dimension)}`;
}

/** Reads text of one known kind and checks its dimension. */
function readAs(text: string, unit: string, field: string): { written: Written; unit: ParsedUnit } {
  const target = parseUnit(unit);
  const expected = expectationOf(unit);
  const result = read(text, expected, field);
  if (!sameDimension(result.unit.dimension, target.dimension)) {
    const hint = wrongKind(result.written.unit, result.unit, unit);
    throw new Refusal({ code: "wrong-dimension", field, received: quoted(text), expected, hint });
  }
  if (unit === "K" && toSI(result.written.digits, result.unit) < 0) {
    const hint = "nothing is colder than 0 K";
    throw new Refusal({ code: "below-absolute-zero", field, received: quoted(text), expected, hint });
  }
  return result;
}

/**
 * SI number of a written quantity.
 *
 * @param text e.g. "25 mm", "290 degC", "3 mbar", "1e19 m-3", "30 MHz/Torr", "20 %", "25(1) mm", "2.5×10¹⁹ m⁻³"
 * @param unit expected SI-coherent UCUM code, e.g. "m", "K", "Pa", "m-3", "rad", "Hz/Pa", "1": the unit of the result
 * @param field name of the field, for the refusal
 * @returns value in `unit`; decimal prefixes are exact ("5 um" is 5e-6 to the last bit); "290 degC" is 563.15 K, while
 *   in a compound ("K/mm", "degC/min") a degree is a difference. An uncertainty in the text is read past: see
 *   `parseWithUncertainty`.
 * @throws Refusal no number, unknown unit (with the nearest known one), wrong dimension, below absolute zero
 */
export function parseQuantity(text: string, unit: string, field: string): number {
  const result = readAs(text, unit, field);
  return toSI(result.written.digits, result.unit);
}

/**
 * Value and standard uncertainty of "25(1) mm" (counts in the last place), "25.0(1.2) mm", "25 ± 1 mm" or
 * "(25 ± 1) mm"; a text without an uncertainty gives undefined for it. Refuses as `parseQuantity` does.
 */
export function parseWithUncertainty(text: string, unit: string, field: string): UncertainQuantity {
  const { written, unit: parsed } = readAs(text, unit, field);
  const value = toSI(written.digits, parsed);
  if (written.uncertainty === undefined) return { value, standardUncertainty: undefined };
  const standardUncertainty = Math.abs(toSI(written.uncertainty, { ...parsed, offset: 0 }));
  return { value, standardUncertainty };
}

/** SI value and dimension of any written quantity. Refuses text without a number or with an unknown unit. */
export function parseAny(text: string, field = "quantity"): AnyQuantity {
  const { written, unit } = read(text, 'a number with a unit such as "25 mm"', field);
  return {
    value: toSI(written.digits, unit),
    dimension: unit.dimension,
    unit: dimensionCode(unit.dimension),
  };
}

/** A number in the unit of a UCUM code → SI. For stored data: an unknown code is a fault of the program. */
export function toCoherent(value: number, unit: string): number {
  return toSI(String(value), parseUnit(unit));
}

/** SI → number in the unit of a UCUM code, to 15 digits. An unknown code is a fault of the program. */
export function fromCoherent(value: number, unit: string): number {
  const { coefficient, power, offset } = parseUnit(unit);
  const shifted = offset === 0 ? value : addDecimal(value, -offset);
  const inUnit = coefficient === 1 ? shifted : shifted / coefficient;
  return scaleDecimal(String(inUnit), -power);
}
