/** `--set path.to.field=VALUE`: any field of a setup overridden from outside, checked like the file itself. */

import { Refusal } from "../quantity/index.ts";
import { FIELDS, fieldAt } from "./fields.ts";
import { type Json, type JsonObject, setPath } from "./json.ts";
import { nearest } from "./nearest.ts";

export function overrideSetup(document: JsonObject, settings: readonly string[]): JsonObject {
  let result = document;
  for (const setting of settings) {
    const at = setting.indexOf("=");
    if (at < 1) {
      throw new Refusal({
        code: "bad-override",
        field: "--set",
        received: JSON.stringify(setting),
        expected: "path.to.field=VALUE",
      });
    }
    const path = setting.slice(0, at).trim();
    result = setPath(result, path, valueFor(path, setting.slice(at + 1).trim()));
  }
  return result;
}

function valueFor(path: string, text: string): Json | undefined {
  const strengths = path.startsWith("medium.strengths.");
  const field = fieldAt(path);
  if (field === undefined && !strengths && !path.startsWith("vessel.thermocouples.")) {
    const near = nearest(
      path,
      FIELDS.map((f) => f.path),
    );
    throw new Refusal({
      code: "unknown-field",
      field: `--set ${path}`,
      received: "a field of this name",
      expected: "a field of the setup file",
      ...(near === undefined ? {} : { hint: `did you mean ${near}` }),
    });
  }
  if (text === "") return undefined; // back to the default
  if (strengths || field?.kind === "integer" || field?.kind === "number") {
    const number = Number(text);
    return Number.isFinite(number) ? number : text; // text is refused by the check, with the field's name
  }
  if (field?.kind === "flag") return text === "true" ? true : text === "false" ? false : text;
  return text;
}
