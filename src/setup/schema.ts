/** The published JSON Schema (draft 2020-12) of the setup file, made from the table of fields. */

import { expectation } from "./expectation.ts";
import type { Field } from "./field-kinds.ts";
import { FIELDS } from "./fields.ts";
import { type Json, type JsonObject, setPath } from "./json.ts";

export const SETUP_SCHEMA_ID = "https://crossprism.example/schema/setup-1.json";

export function setupSchema(): JsonObject {
  let properties: JsonObject = {
    $schema: { type: "string" },
    version: { const: 1, description: "Version of the file's form." },
  };
  for (const field of FIELDS) {
    properties = setPath(properties, field.path.split(".").join(".properties."), schemaOf(field));
  }
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    $id: SETUP_SCHEMA_ID,
    title: "crossprism setup",
    description: 'What stands on the bench. Quantities are text with units, such as "25 mm" or "290 degC".',
    ...closed(properties, ""),
    anyOf: [
      {
        required: ["vessel", "medium"],
        properties: {
          vessel: { required: ["kind"], ...ofKind("prism") },
          medium: { oneOf: [{ required: ["absorbance"] }, { required: ["oscillators"] }] },
        },
      },
      {
        required: ["medium"],
        properties: {
          vessel: { properties: { kind: { enum: ["tube", "cell", "flame"] } } },
          medium: { required: ["element"] },
        },
      },
    ],
  };
}

function closed(properties: JsonObject, group: string): JsonObject {
  const required = FIELDS.filter((field) => parentOf(field.path) === group && mustStand(field)).map((field) =>
    nameOf(field.path),
  );
  const children: Record<string, Json> = {};
  for (const [name, value] of Object.entries(properties)) {
    const inner = (value as JsonObject)["properties"];
    const isGroup = inner !== undefined && (value as JsonObject)["type"] === undefined;
    children[name] = isGroup ? closed(inner as JsonObject, group === "" ? name : `${group}.${name}`) : value;
  }
  // The vessel's ways each name what they need.
  const groups = Object.keys(children).filter(
    (name) =>
      (group === "" && (name === "vessel" || name === "medium")) ||
      FIELDS.some(
        (f) =>
          f.group === undefined &&
          f.path.startsWith(`${group === "" ? "" : `${group}.`}${name}.`) &&
          mustStand(f),
      ),
  );
  return {
    type: "object",
    additionalProperties: false,
    required: [...new Set([...required, ...groups])],
    properties: children,
    ...(group === "vessel" ? { oneOf: WALL_WAYS } : {}),
  };
}

/** Names of the fields that measured temperatures take; other ways in refuse them. */
const MEASURED = FIELDS.filter((field) => field.unless?.includes("vessel.heater") === true).map((field) =>
  nameOf(field.path),
);
const none = (names: readonly string[]): Json => ({
  not: { anyOf: names.map((name) => ({ required: [name] })) },
});
const ofKind = (kind: string): JsonObject => ({ properties: { kind: { const: kind } } });

/** Ways to say what the vessel is, exactly one of them: three for a tube's wall, one for each other vessel. */
const WALL_WAYS: readonly Json[] = [
  {
    required: ["bottom", "top", "gasPressure"],
    allOf: [none(["heater", "thermocouples"])],
    ...ofKind("tube"),
  },
  {
    required: ["heater", "tubeMaterial", "gasPressure"],
    allOf: [none([...MEASURED.filter((name) => name !== "thermocouples"), "thermocouples"])],
    ...ofKind("tube"),
  },
  {
    required: ["thermocouples", "gasPressure"],
    allOf: [none(["heater", "bottom", "top", "ends"])],
    ...ofKind("tube"),
  },
  { required: ["kind", "sideArm", "body"], allOf: [none(["heater", "thermocouples"])], ...ofKind("cell") },
  {
    required: ["kind", "flameDensity", "flameTemperature", "gasPressure"],
    allOf: [none(["heater", "thermocouples"])],
    ...ofKind("flame"),
  },
  { required: ["kind"], allOf: [none(["heater", "thermocouples"])], ...ofKind("prism") },
];

function mustStand(field: Field): boolean {
  return (
    field.optional !== true &&
    field.unless === undefined &&
    field.when === undefined &&
    !("default" in field && field.default !== undefined)
  );
}

function parentOf(path: string): string {
  return path.split(".").slice(0, -1).join(".");
}

function nameOf(path: string): string {
  return path.split(".").at(-1) ?? path;
}

function schemaOf(field: Field): JsonObject {
  const said = { title: field.label, description: `${field.sentence} Expected: ${expectation(field)}.` };
  const preset = "default" in field && field.default !== undefined ? { default: field.default } : {};
  switch (field.kind) {
    case "text":
      return { type: "string", ...said, ...preset };
    case "flag":
      return { type: "boolean", ...said, ...preset };
    case "choice":
      return { enum: [...field.options], ...said, ...preset };
    case "integer":
      return { type: "integer", minimum: field.min, maximum: field.max, ...said, ...preset };
    case "number":
      return { type: "number", minimum: field.min, maximum: field.max, ...said, ...preset };
    case "table":
      return {
        type: "array",
        minItems: 2,
        items: {
          type: "array",
          minItems: 1 + Math.min(...field.columns),
          maxItems: 1 + Math.max(...field.columns),
          prefixItems: [{ type: "string" }],
          items: { type: field.unit === "1" ? "number" : "string" },
        },
        ...said,
      };
    case "by-line":
      return {
        type: "object",
        additionalProperties: { type: "number", minimum: field.min, maximum: field.max },
        ...said,
      };
    case "places":
      return { type: "object", additionalProperties: { type: "string" }, minProperties: 2, ...said };
    case "quantity":
      return { type: "string", ...said, ...preset };
  }
}
