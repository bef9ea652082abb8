/** The setup file as data: nested objects of text, numbers, flags. Reading and writing by dotted path. */

import { Refusal } from "../quantity/index.ts";

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };
export type JsonObject = { readonly [key: string]: Json };

export function isObject(value: unknown): value is JsonObject {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Value at a dotted path, undefined where nothing stands. */
export function getPath(document: JsonObject, path: string): Json | undefined {
  let at: Json | undefined = document;
  for (const key of path.split(".")) {
    if (!isObject(at)) return undefined;
    at = Object.hasOwn(at, key) ? at[key] : undefined;
  }
  return at;
}

/** A copy of the document with the value at a dotted path replaced; `undefined` removes it. */
export function setPath(document: JsonObject, path: string, value: Json | undefined): JsonObject {
  const [head = "", ...rest] = path.split(".");
  const copy: Record<string, Json> = { ...document };
  if (rest.length === 0) {
    if (value === undefined) return Object.fromEntries(Object.entries(copy).filter(([key]) => key !== head));
    copy[head] = value;
    return copy;
  }
  const inner = copy[head];
  copy[head] = setPath(isObject(inner) ? inner : {}, rest.join("."), value);
  return copy;
}

/** Every leaf of the document with its dotted path; an empty object counts as a leaf. */
export function leaves(document: JsonObject, prefix = ""): { path: string; value: Json }[] {
  return Object.entries(document).flatMap(([key, value]) => {
    const path = prefix === "" ? key : `${prefix}.${key}`;
    return isObject(value) && Object.keys(value).length > 0 ? leaves(value, path) : [{ path, value }];
  });
}

/** Text of a file as a JSON object, or a Refusal that names the file and the place. */
export function parseJsonObject(text: string, name: string): JsonObject {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const detail = error instanceof Error ? error.message : "unreadable";
    throw new Refusal({
      code: "not-json",
      field: name,
      received: `text that is not JSON (${detail})`,
      expected: "a JSON setup file",
    });
  }
  if (!isObject(value)) {
    throw new Refusal({
      code: "not-a-setup",
      field: name,
      received: JSON.stringify(value).slice(0, 40),
      expected: "a JSON object with medium, vessel, path and camera",
    });
  }
  return value;
}
