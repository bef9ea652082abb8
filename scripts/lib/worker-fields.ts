/** The table of fields as the page's workers carry it: they check values and show neither label nor sentence, so those stay out. */
import { resolve } from "node:path";
import type { Plugin } from "vite";

const FIELDS = resolve(import.meta.dirname, "../../src/setup/fields");
const LABEL = /\blabel:\s*"(?:[^"\\\n]|\\.)*"/g;
/** A text of several words that ends with a full stop: in these files only sentences do. */
const SENTENCE = /"[^"\\\n]* (?:[^"\\\n]|\\.)*\."|`[^`\n]* [^`\n]*\.`/g;

/** The code with every label of its own and every sentence of a field emptied. */
export function withoutWords(code: string): string {
  return code.replace(LABEL, 'label: ""').replace(SENTENCE, '""');
}

export function workerFields(): Plugin {
  return {
    name: "worker-fields",
    enforce: "pre",
    transform: (code, id) => (id.startsWith(FIELDS) ? { code: withoutWords(code), map: null } : null),
  };
}
