/** Numbers of a checked setup read and replaced by the path they have in the file, without going through text. */
import { Refusal } from "../quantity/index.ts";
import {
  fieldAt,
  getPath,
  type IntegerField,
  type JsonObject,
  type NumberField,
  type QuantityField,
  setPath,
  type Setup,
} from "../setup/index.ts";

/** Where a field of the file stands in the checked setup, when not under its own path. */
const MOVED: Readonly<Record<string, string>> = {
  "medium.gasWidth": "medium.overrides.gasWidth",
  "vessel.bottom": "vessel.wall.bottom",
  "vessel.top": "vessel.wall.top",
  "vessel.ends": "vessel.wall.ends",
  "vessel.hotStrip": "vessel.wall.hotStrip",
  "vessel.windowThickness": "construction.windowThickness",
  "vessel.windowDiameter": "construction.windowDiameter",
  "path.disperser.grooves": "path.disperser.groovesPerMetre",
};

export type NumericField = QuantityField | NumberField | IntegerField;

/** The field at a path, refused where it is no number. */
export function numericField(path: string, option: string): NumericField {
  const field = fieldAt(path);
  if (
    field !== undefined &&
    (field.kind === "quantity" || field.kind === "number" || field.kind === "integer")
  )
    return field;
  throw new Refusal({
    code: field === undefined ? "unknown-field" : "not-a-number",
    field: option,
    received: `"${path}"`,
    expected: 'a field of the setup that is a number, such as "vessel.bottom"',
  });
}

/** SI-coherent unit of a field, UCUM code. */
export function unitOf(field: NumericField): string {
  return field.kind === "quantity" ? field.unit : "1";
}

/** SI number at a path of the file. Refuses a field that the setup leaves out. */
export function numberAt(setup: Setup, path: string): number {
  const value = getPath(setup as unknown as JsonObject, MOVED[path] ?? path);
  if (typeof value === "number") return value;
  throw new Refusal({
    code: "not-stated",
    field: path,
    received: "nothing",
    expected: "a value in the setup, since it is to be varied",
  });
}

/** A copy of the setup with some numbers replaced; refuses what lies outside a field's legal range. */
export function withNumbers(setup: Setup, numbers: ReadonlyMap<string, number>): Setup {
  let changed = setup as unknown as JsonObject;
  for (const [path, given] of numbers) {
    const field = numericField(path, path);
    const value = field.kind === "integer" ? Math.round(given) : given;
    if (!(value >= field.min && value <= field.max)) {
      throw new Refusal({
        code: "bad-value",
        field: path,
        received: `${value} ${unitOf(field)}`,
        expected: `${field.min} to ${field.max} ${unitOf(field)}`,
      });
    }
    changed = setPath(changed, MOVED[path] ?? path, value);
  }
  return changed as unknown as Setup;
}
