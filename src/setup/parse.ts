/**
 * From the text of a setup file to a checked setup in SI units. Everything wrong is found at once; `parseSetup`
 * throws the first fault and says how many more there are, `examineSetup` gives them all.
 */

import { parseQuantity, Refusal, type RefusalRecord } from "../quantity/index.ts";
import { glassCodes, linesOf } from "../reference/index.ts";
import type { DisperserInput, SourceInput } from "../path/api.ts";
import type { MediumOverrides } from "../medium/api.ts";
import type { Setup } from "./api.ts";
import { type Field, FIELDS, fieldAt } from "./fields.ts";
import { getPath, isObject, type Json, type JsonObject, leaves } from "./json.ts";
import { nearest } from "./nearest.ts";

export const SETUP_VERSION = 1;

/** Old field → new field, applied before the defaults, by version of the file. None yet: version 1 is the first. */
const RENAMED: Readonly<Record<number, Readonly<Record<string, string>>>> = {};

export interface Examined {
  readonly setup: Setup | undefined;
  readonly faults: readonly RefusalRecord[];
}

type Value = string | number | boolean | Readonly<Record<string, number>> | undefined;

export function parseSetup(document: JsonObject): Setup {
  const { setup, faults } = examineSetup(document);
  if (setup !== undefined) return setup;
  const [first, ...more] = faults;
  if (first === undefined) throw new Error("a setup was refused without a fault");
  if (more.length === 0) throw new Refusal(first);
  const others = more.map((fault) => fault.field).join(", ");
  const hint = first.hint === undefined ? "" : `${first.hint}; `;
  throw new Refusal({ ...first, hint: `${hint}also at fault: ${others}` });
}

export function examineSetup(document: JsonObject): Examined {
  const faults: RefusalRecord[] = [];
  checkVersion(document, faults);
  if (faults.length > 0) return { setup: undefined, faults };
  checkNames(document, faults);
  const values = new Map<string, Value>();
  for (const field of FIELDS) {
    if (field.when !== undefined && !field.when.is.includes(String(values.get(field.when.path)))) continue;
    try {
      values.set(field.path, readField(field, getPath(document, field.path)));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      faults.push(error.record);
    }
  }
  if (faults.length === 0) checkTogether(values, faults);
  return faults.length > 0 ? { setup: undefined, faults } : { setup: assemble(values), faults };
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

const FREE = new Set(["$schema", "version"]);

function checkNames(document: JsonObject, faults: RefusalRecord[]): void {
  const groups = ["medium", "vessel", "path", "camera", "path.source", "path.disperser"];
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
      if (field.path.startsWith("path.disperser.") && !glassCodes().includes(value)) {
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

/** "a length between 1 mm and 500 mm" and the like: completes "expected …". */
export function expectation(field: Field): string {
  switch (field.kind) {
    case "text":
      return "text";
    case "flag":
      return "true or false";
    case "choice":
      return `one of ${field.options.join(", ")}`;
    case "integer":
      return `a whole number from ${field.min} to ${field.max}`;
    case "number":
      return `a number from ${field.min} to ${field.max}`;
    case "by-line":
      return `numbers from ${field.min} to ${field.max} by line id`;
    case "quantity": {
      const low = `${field.min} ${field.unit}`;
      return `a quantity such as "${field.default ?? `1 ${field.show}`}", ${field.openMin === true ? "above" : "from"} ${low} to ${field.max} ${field.unit}`;
    }
  }
}

function checkTogether(values: ReadonlyMap<string, Value>, faults: RefusalRecord[]): void {
  const number = (path: string): number => values.get(path) as number;
  if (number("vessel.heatedLength") > number("vessel.length")) {
    faults.push({
      code: "heated-longer-than-tube",
      field: "vessel.heatedLength",
      received: `${number("vessel.heatedLength")} m`,
      expected: `at most vessel.length, ${number("vessel.length")} m`,
    });
  }
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
  if (typeof strengths === "object") {
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

function assemble(values: ReadonlyMap<string, Value>): Setup {
  const n = (path: string): number => values.get(path) as number;
  const s = (path: string): string => values.get(path) as string;
  const optional = <K extends string>(key: K, path: string): { readonly [P in K]?: number } => {
    const value = values.get(path);
    return (typeof value === "number" ? { [key]: value } : {}) as { readonly [P in K]?: number };
  };
  const strengths = values.get("medium.strengths") as Readonly<Record<string, number>> | undefined;
  const overrides: MediumOverrides = {
    ...(strengths === undefined ? {} : { oscillatorStrength: strengths }),
    ...optional("gasWidth", "medium.gasWidth"),
    pressureEquation: s("medium.pressureEquation"),
  };
  return {
    version: 1,
    title: s("title"),
    notes: s("notes"),
    medium: {
      element: s("medium.element"),
      structure: s("medium.structure") as "hyperfine" | "merged",
      overrides,
    },
    vessel: {
      element: s("medium.element"),
      bore: n("vessel.bore"),
      heatedLength: n("vessel.heatedLength"),
      length: n("vessel.length"),
      wall: {
        kind: "measured",
        bottom: n("vessel.bottom"),
        top: n("vessel.top"),
        ends: n("vessel.ends"),
        hotStrip: n("vessel.hotStrip"),
      },
      gas: s("vessel.gas"),
      gasPressure: n("vessel.gasPressure"),
      ...optional("gasFilledAt", "vessel.gasFilledAt"),
      ...optional("charge", "vessel.charge"),
      pressureEquation: s("medium.pressureEquation"),
    },
    path: {
      source: {
        kind: s("path.source.kind") as SourceInput["kind"],
        ...optional("temperature", "path.source.temperature"),
      },
      levelSlit: n("path.levelSlit"),
      plumbSlit: n("path.plumbSlit"),
      collimatorFocalLength: n("path.collimatorFocalLength"),
      focalLength: n("path.focalLength"),
      secondCollimatorFocalLength: n("path.secondCollimatorFocalLength"),
      cameraFocalLength: n("path.cameraFocalLength"),
      disperser: disperser(values),
      centreWavelength: n("path.centreWavelength"),
      beamHeight: n("path.beamHeight"),
      beamSize: n("path.beamSize"),
      beamWidth: n("path.beamWidth"),
      stray: n("path.stray"),
      cameraRoll: n("path.cameraRoll"),
      levelSlitTilt: n("path.levelSlitTilt"),
      defocus: n("path.defocus"),
      inverted: values.get("path.inverted") as boolean,
    },
    camera: {
      pixel: n("camera.pixel"),
      columns: n("camera.columns"),
      rows: n("camera.rows"),
      exposure: n("camera.exposure"),
      rate: n("camera.rate"),
      fullWell: n("camera.fullWell"),
      readNoise: n("camera.readNoise"),
      blackLevel: n("camera.blackLevel"),
      bitDepth: n("camera.bitDepth") as 8 | 16,
      gamma: n("camera.gamma"),
      seed: n("camera.seed"),
    },
    construction: {
      ...(values.get("vessel.tubeMaterial") === undefined ? {} : { tubeMaterial: s("vessel.tubeMaterial") }),
      cooling: s("vessel.cooling"),
      windowMaterial: s("vessel.windowMaterial"),
      ...optional("windowThickness", "vessel.windowThickness"),
      windowDiameter: (values.get("vessel.windowDiameter") as number | undefined) ?? n("vessel.bore"),
    },
  };
}

function disperser(values: ReadonlyMap<string, Value>): DisperserInput {
  const n = (name: string): number => values.get(`path.disperser.${name}`) as number;
  switch (values.get("path.disperser.kind")) {
    case "grating":
      return { kind: "grating", groovesPerMetre: n("grooves"), order: n("order") };
    case "linear":
      return { kind: "linear", wavelengthPerLength: n("wavelengthPerLength") };
    default:
      return {
        kind: "direct-vision",
        crown: values.get("path.disperser.crown") as string,
        flint: values.get("path.disperser.flint") as string,
        flintApex: n("flintApex"),
        undeviated: n("undeviated"),
        elements: n("elements") as 3 | 5,
        trains: n("trains") as 1 | 2,
      };
  }
}
