/** What each field does, in a sentence. The first view's table of fields comes without them: they are fetched when a field is reached. */
import type { Field } from "../../setup/field-kinds.ts";

const tables = import.meta.glob<Record<string, Field | readonly Field[]>>(
  ["../../setup/fields-*.ts", "!**/*.test.ts"],
  { query: "?words", eager: true },
);
const sentences = new Map(
  Object.values(tables)
    .flatMap((table) => Object.values(table).flat())
    .map(({ path, sentence }) => [path, sentence]),
);

export function sentenceOf(field: Field): string {
  return sentences.get(field.path) ?? field.sentence;
}
