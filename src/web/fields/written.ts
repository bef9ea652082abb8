/** Quantities as they are written in the setup: what is shown, what is typed, what a dragged rule writes. */
import { formatQuantity, parseQuantity } from "../../quantity/index.ts";
import type { QuantityField } from "../../setup/field-kinds.ts";
import { valueAtShare, type Reach } from "./reach.ts";

/** The unit part of a written quantity, "degC" of "285 degC". */
export function unitOf(text: string): string {
  return text
    .trim()
    .replace(/^[+\-−]?[\d.]+(?:[eE][+-]?\d+)?/, "")
    .trim();
}

/** As a person reads it: "285 °C" for "285 degC", in the unit in which it was written. */
export function shown(field: QuantityField, text: string): string {
  const unit = unitOf(text);
  try {
    return formatQuantity(parseQuantity(text, field.unit, field.path), field.unit, {
      digits: 8,
      as: unit || field.show,
    });
  } catch {
    // Not readable: shown as it stands, the sentence beside it says what is wrong.
    return text;
  }
}

/** Typed text as it goes into the setup; a bare number takes the unit that stood there. */
export function typed(field: QuantityField, text: string, before: string | undefined): string {
  const clean = text.trim();
  if (clean !== "" && unitOf(clean) === "" && /\d$/.test(clean)) {
    return `${clean} ${(before === undefined ? "" : unitOf(before)) || field.show}`;
  }
  return clean;
}

/** The value at a share of the rule, rounded to what a hand can set, in the unit that stood there. */
export function dragged(
  field: QuantityField,
  reach: Reach,
  share: number,
  before: string | undefined,
): string {
  const value = valueAtShare(reach, share);
  const unit = (before === undefined ? "" : unitOf(before)) || field.show;
  if (field.unit === "K") {
    const text = formatQuantity(value, field.unit, { digits: "all", as: unit, plain: true });
    return `${Math.round(Number.parseFloat(text) * 2) / 2} ${unit}`;
  }
  return formatQuantity(value, field.unit, { digits: 3, as: unit, plain: true });
}

/** Legal range in the unit the field is shown in: "200 °C to 500 °C", "more than 0 mbar, at most 10000 mbar". */
export function rangeText(field: QuantityField): string {
  const say = (value: number): string => formatQuantity(value, field.unit, { digits: 4, as: field.show });
  return field.openMin === true
    ? `more than ${say(field.min)}, at most ${say(field.max)}`
    : `${say(field.min)} to ${say(field.max)}`;
}
