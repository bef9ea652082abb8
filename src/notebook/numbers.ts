/** Numbers of an entry by which it can be found, by name, in SI units. */

import { isObject, type Json, type JsonObject } from "../setup/index.ts";
import type { EntryKind } from "./contract.ts";

/**
 * A reading's and a forecast's answers by their own names ("columnGradient", "fRatio", "zeroBetweenLines"),
 * temperatures as "temperature.bottom", a picture's "exposure".
 */
export function numbersOf(
  kind: EntryKind,
  body: JsonObject,
): readonly (readonly [name: string, value: number])[] {
  const found: (readonly [string, number])[] = [];
  const take = (name: string, value: Json | undefined): void => {
    if (typeof value === "number") found.push([name, value]);
    else if (isObject(value)) take(name, value["value"] ?? value["measured"]);
  };
  const takeAll = (values: Json | undefined, prefix = ""): void => {
    if (isObject(values)) for (const [name, value] of Object.entries(values)) take(prefix + name, value);
  };
  if (kind === "reading" || kind === "forecast") takeAll(body["result"]);
  if (kind === "temperatures") takeAll(body["temperatures"], "temperature.");
  if (kind === "picture") take("exposure", body["exposure"]);
  return found;
}
