/** From the text of a setup file to a checked setup in SI units. Everything wrong is found at once. */

import { parseQuantity, Refusal, type RefusalRecord } from "../quantity/index.ts";
import { heatingRefusal } from "../medium/index.ts";
import { ELEMENTS, glassCodes, linesOf } from "../reference/index.ts";
import type { Setup } from "./api.ts";
import { assemble } from "./assemble.ts";
import { expectation } from "./expectation.ts";
import type { Field } from "./field-kinds.ts";
import { FIELDS, fieldAt } from "./fields.ts";
import { getPath, isObject, type Json, type JsonObject, leaves } from "./json.ts";
import { nearest } from "./nearest.ts";
import { readPlaces } from "./places.ts";
import { readTable } from "./table.ts";
import type { Value } from "./value.ts";
import { checkVesselFields } from "./check-vessel.ts";

export const SETUP_VERSION = 1;

/** Old field → new field, applied before the defaults, by version of the file. None yet: version 1 is the first. */
const RENAMED: Readonly<Record<number, Readonly<Record<string, string>>>> = {};

export interface Examined {
  readonly setup: Setup | undefined;
  readonly faults: readonly RefusalRecord[];
}

/** The fields alone: of a tube with a heater the wall is still to come (`inBalance`). */
export function examineFields(document: JsonObject): Examined {
  const faults: RefusalRecord[] = [];
  checkVersion(document, faults);
  if (faults.length > 0) return { setup: undefined, faults };
  checkNames(document, faults);
  const values = new Map<string, Value>();
  for (const field of FIELDS) {
    if (
      field.when !== undefined &&
      !field.when.is.some((value) => value === values.get(field.when?.path ?? ""))
    )
      continue;
    if (field.group !== undefined && getPath(document, field.group) === undefined) continue;
    const instead = field.unless?.find((group) => getPath(document, group) !== undefined);
    if (instead !== undefined) {
      if (getPath(document, field.path) !== undefined) faults.push(bothWays(field.path, instead));
      continue;
    }
    try {
      values.set(field.path, readField(field, getPath(document, field.path)));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      faults.push(error.record);
    }
  }
  if (faults.length === 0) checkTogether(values, faults);
  if (faults.length > 0) return { setup: undefined, faults };
  try {
    return { setup: assemble(values), faults };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { setup: undefined, faults: [error.record] };
  }
}

function checkVersion(document: JsonObject, faults: RefusalRecord[]): void {
  const version = document["version"];
  if (version === undefined || version === SETUP_VERSION) return;
  const newer = typeof version === "number" && version > SETUP_VERSION;
  if (!newer && typeof version === "number" && RENAMED[version] !== undefined) return;
  faults.push({
    code: newer ? "newer-version" : "bad-version",
    field: "version",
    received: JSON.stringify(version),
    expected: `${SETUP_VERSION}`,
    ...(newer ? { hint: "this setup was written by a newer crossprism; update the program to open it" } : {}),
  });
}

function bothWays(path: string, group: string): RefusalRecord {
  return {
    code: "wall-given-twice",
    field: path,
    received: `a value beside ${group}`,
    expected:
      "the wall as measured temperatures, as thermocouples at named places, or as a heater with its cooling, never both",
  };
}

const FREE = new Set(["$schema", "version"]);

function checkNames(document: JsonObject, faults: RefusalRecord[]): void {
  const groups = ["medium", "vessel", "vessel.heater", "path", "camera", "path.source", "path.disperser"];
  for (const group of groups) {
    const value = getPath(document, group);
    if (value !== undefined && !isObject(value)) {
      faults.push({
        code: "not-a-group",
        field: group,
        received: show(value),
        expected: "an object with named fields",
      });
    }
  }
  const known = FIELDS.map((field) => field.path);
  for (const { path } of leaves(document)) {
    if (FREE.has(path) || groups.includes(path)) continue;
    if (fieldAt(path) !== undefined || path.startsWith("medium.strengths.")) continue;
    if (known.some((name) => path.startsWith(`${name}.`))) continue; // wrong kind: said by readField
    const near = nearest(path, known);
    faults.push({
      code: "unknown-field",
      field: path,
      received: "a field of this name",
      expected: "only fields of the setup file",
      ...(near === undefined ? {} : { hint: `did you mean ${near}` }),
    });
  }
}

function show(value: Json | undefined): string {
  return value === undefined ? "nothing" : JSON.stringify(value).slice(0, 80);
}

function readField(field: Field, value: Json | undefined): Value {
  if (value === undefined || value === null) {
    if ("default" in field && field.default !== undefined) return readField(field, field.default);
    if (field.optional === true) return undefined;
    throw new Refusal({
      code: "missing-field",
      field: field.path,
      received: "nothing",
      expected: expectation(field),
    });
  }
  const wrong = (received = show(value), hint?: string): Refusal =>
    new Refusal({
      code: "bad-value",
      field: field.path,
      received,
      expected: expectation(field),
      ...(hint === undefined ? {} : { hint }),
    });
  switch (field.kind) {
    case "text":
      if (typeof value !== "string") throw wrong();
      if (field.names === "glass" && !glassCodes().includes(value)) {
        throw new Refusal({
          code: "unknown-glass",
          field: field.path,
          received: show(value),
          expected: `a six-digit glass code, one of ${glassCodes().join(", ")}`,
        });
      }
      return value;
    case "flag":
      if (typeof value !== "boolean") throw wrong();
      return value;
    case "choice": {
      if (typeof value !== "string") throw wrong();
      if (!field.options.includes(value)) {
        if (field.path === "medium.element" && ELEMENTS.includes(value)) {
          throw new Refusal({
            code: "not-to-be-heated",
            field: field.path,
            received: `${value}, a metal that no setup may heat`,
            expected: expectation(field),
            hint: `${heatingRefusal(value) ?? "it is not offered as a vapour tube"} (\`index\` still answers for it)`,
          });
        }
        const near = nearest(value, field.options);
        throw wrong(show(value), near === undefined ? undefined : `did you mean ${near}`);
      }
      return value;
    }
    case "integer":
      if (typeof value !== "number" || !Number.isInteger(value) || value < field.min || value > field.max)
        throw wrong();
      return value;
    case "number":
      if (typeof value !== "number" || !(value >= field.min && value <= field.max)) throw wrong();
      return value;
    case "quantity": {
      if (typeof value !== "string") throw wrong(show(value), "write the number with its unit");
      const si = parseQuantity(value, field.unit, field.path);
      if (!(si >= field.min && si <= field.max) || (field.openMin === true && si === field.min))
        throw wrong();
      return si;
    }
    case "places":
      if (!isObject(value)) throw wrong();
      return readPlaces(field.path, value);
    case "table":
      return readTable(field, value);
    case "by-line": {
      if (!isObject(value)) throw wrong();
      const numbers: Record<string, number> = {};
      // Line ids contain dots, so a value set by path stands nested: the leaves' paths join them again.
      for (const { path: line, value: strength } of leaves(value)) {
        if (typeof strength !== "number" || !(strength >= field.min && strength <= field.max))
          throw wrong(`${line}: ${show(strength)}`);
        numbers[line] = strength;
      }
      return numbers;
    }
  }
}

function checkTogether(values: ReadonlyMap<string, Value>, faults: RefusalRecord[]): void {
  const number = (path: string): number => values.get(path) as number;
  checkVesselFields(values, faults);
  const reach = Math.abs(number("path.beamHeight")) + number("path.beamSize") / 2;
  if (reach >= number("vessel.bore") / 2) {
    faults.push({
      code: "beam-outside-bore",
      field: "path.beamSize",
      received: `a beam that reaches ${(reach * 1e3).toPrecision(3)} mm from the axis`,
      expected: `a beam inside the bore's radius of ${((number("vessel.bore") / 2) * 1e3).toPrecision(3)} mm`,
    });
  }
  const bits = number("camera.bitDepth");
  if (bits !== 8 && bits !== 16) {
    faults.push({ code: "bad-value", field: "camera.bitDepth", received: `${bits}`, expected: "8 or 16" });
  }
  if (values.get("path.disperser.kind") === "direct-vision" && number("path.disperser.elements") === 4) {
    faults.push({ code: "bad-value", field: "path.disperser.elements", received: "4", expected: "3 or 5" });
  }
  const strengths = values.get("medium.strengths");
  if (typeof strengths === "object" && !Array.isArray(strengths)) {
    const ids = linesOf(values.get("medium.element") as string).map((line) => line.id);
    for (const id of Object.keys(strengths)) {
      if (!ids.includes(id)) {
        faults.push({
          code: "unknown-line",
          field: `medium.strengths.${id}`,
          received: "a line of this id",
          expected: `one of ${ids.join(", ")}`,
        });
      }
    }
  }
}
