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
  const groups = Object.keys(children).filter((name) =>
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

/** The wall's two ways in: measured temperatures or a heater, never both. */
const MEASURED = FIELDS.filter((field) => field.unless === "vessel.heater").map((field) =>
  nameOf(field.path),
);
const WALL_WAYS: readonly Json[] = [
  { required: ["bottom", "top"], not: { required: ["heater"] } },
  {
    required: ["heater", "tubeMaterial"],
    not: { anyOf: MEASURED.map((name) => ({ required: [name] })) },
  },
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
    case "by-line":
      return {
        type: "object",
        additionalProperties: { type: "number", minimum: field.min, maximum: field.max },
        ...said,
      };
    case "quantity":
      return { type: "string", ...said, ...preset };
  }
}
