/**
 * One way to say no: a record of which field was wrong, what was received and what would be right, worded in one
 * sentence. Everything that refuses input throws this; anything else that is thrown is the program's own fault.
 */
export interface RefusalRecord {
  /** stable short code, kebab case, e.g. "unknown-element" */
  readonly code: string;
  /** path of the field or name of the file, e.g. "vessel.gasPressure" */
  readonly field: string;
  /** what was received, as the person wrote it */
  readonly received: string;
  /** what would be right, completing the sentence "… must be …" or "… expected …" */
  readonly expected: string;
  /** near miss or what to try next, a full clause without the final stop */
  readonly hint?: string;
}

export class Refusal extends Error {
  readonly record: RefusalRecord;

  constructor(record: RefusalRecord) {
    super(refusalSentence(record));
    this.name = "Refusal";
    this.record = record;
  }
}

/** The record as one sentence ending with a full stop. */
export function refusalSentence(record: RefusalRecord): string {
  const hint = record.hint === undefined ? "" : `; ${record.hint}`;
  return `${record.field}: expected ${record.expected}, received ${record.received}${hint}.`;
}
