/** Opening a setup file named on the command line, with its overrides. */

import { overrideSetup, parseJsonObject, parseSetup, type JsonObject, type Setup } from "../setup/index.ts";
import { readText } from "./files.ts";

export async function openSetup(
  path: string,
  settings: readonly string[],
): Promise<{ setup: Setup; document: JsonObject }> {
  const document = overrideSetup(parseJsonObject(await readText(path), path), settings);
  return { setup: parseSetup(document), document };
}

/** Collects a repeatable option. */
export function repeat(value: string, previous: readonly string[] = []): string[] {
  return [...previous, value];
}
