import { type RefusalRecord, refusalSentence } from "../../quantity/index.ts";

/** Everything that is wrong with a setup, found at once. */
export class Faults extends Error {
  readonly records: readonly RefusalRecord[];
  readonly sentences: readonly string[];

  constructor(records: readonly RefusalRecord[]) {
    const sentences = records.map((record) => refusalSentence(record));
    super(sentences.join(" "));
    this.name = "Faults";
    this.records = records;
    this.sentences = sentences;
  }
}
