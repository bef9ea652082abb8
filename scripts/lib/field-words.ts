/**
 * The table of fields without words that are not needed where it is carried: the page's workers check values and show neither label nor sentence,
 * and the first view shows no sentence before a field is reached. Both must be small.
 */
import { resolve } from "node:path";
import type { Plugin } from "vite";

const FIELDS = resolve(import.meta.dirname, "../../src/setup/fields");
const LABEL = /\blabel:\s*"(?:[^"\\\n]|\\.)*"/g;
/** A text of several words that ends with a full stop: in these files only sentences do. */
const SENTENCE = /"[^"\\\n]* (?:[^"\\\n]|\\.)*\."|`[^`\n]* [^`\n]*\.`/g;

/** The code with every sentence of a field emptied. */
export function withoutSentences(code: string): string {
  return code.replace(SENTENCE, '""');
}

/** The code with every label of its own and every sentence of a field emptied. */
export function withoutWords(code: string): string {
  return withoutSentences(code).replace(LABEL, 'label: ""');
}

/** @param without one of the above; a module asked for as `?words` keeps its words */
export function fieldWords(without: (code: string) => string): Plugin {
  return {
    name: "field-words",
    enforce: "pre",
    transform: (code, id) =>
      id.startsWith(FIELDS) && !id.endsWith("?words") ? { code: without(code), map: null } : null,
  };
}
