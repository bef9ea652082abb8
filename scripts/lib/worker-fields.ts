/** The table of fields as the page's workers carry it: they check values and show neither label nor sentence, so those stay out. */
import { resolve } from "node:path";
import type { Plugin } from "vite";

const FIELDS = resolve(import.meta.dirname, "../../src/setup/fields-");
const TEXT = /"(?:[^"\\]|\\.)*"/.source;
const WORDS = new RegExp(String.raw`\b(label|sentence):\s*${TEXT}`, "g");
/** A call of a helper whose arguments are texts and numbers: path, label, …, sentence. */
const HELPED = new RegExp(
  String.raw`(\b(?:length|temperature|concentration)\(\s*${TEXT},\s*)${TEXT}(,(?:\s*(?:${TEXT}|[-+.\w]+),)*\s*)${TEXT}(,?\s*\))`,
  "g",
);

/** The code with every literal label and sentence of a field emptied. */
export function withoutWords(code: string): string {
  return code.replace(WORDS, '$1: ""').replace(HELPED, '$1""$2""$3');
}

export function workerFields(): Plugin {
  return {
    name: "worker-fields",
    enforce: "pre",
    transform: (code, id) => (id.startsWith(FIELDS) ? { code: withoutWords(code), map: null } : null),
  };
}
