/**
 * The journal: every entry once more, one line of JSON each, in a plain file beside the database. Anyone can read it, and
 * where the database is damaged the entries come back from it. Lines are only appended, by whoever holds the database's
 * write lock; a line that a crash tore is followed by a whole one on a line of its own.
 */

import { closeSync, existsSync, fstatSync, openSync, readFileSync, readSync, writeSync } from "node:fs";
import { join } from "node:path";
import { entryOfLine, type Line } from "./record.ts";

export const JOURNAL_NAME = "journal.ndjson";

/**
 * Appends whole lines. The system writes them to the disk in its own time: the database, which is waited for, holds the
 * same, so a power cut can take the last lines of one of the two only.
 */
export function appendLines(folder: string, lines: string): void {
  const handle = openSync(join(folder, JOURNAL_NAME), "a+");
  try {
    const { size } = fstatSync(handle);
    const last = Buffer.alloc(1);
    const torn = size > 0 && readSync(handle, last, 0, 1, size - 1) === 1 && last[0] !== 0x0a;
    const bytes = Buffer.from(torn ? `\n${lines}` : lines);
    let done = 0;
    while (done < bytes.length) done += writeSync(handle, bytes, done);
  } finally {
    closeSync(handle);
  }
}

/** Whole entries of the journal in their order, and how many lines are torn or altered. */
export function readJournal(folder: string): { readonly lines: readonly Line[]; readonly bad: number } {
  const path = join(folder, JOURNAL_NAME);
  if (!existsSync(path)) return { lines: [], bad: 0 };
  const lines: Line[] = [];
  let bad = 0;
  for (const text of readFileSync(path, "utf8").split("\n")) {
    if (text.trim() === "") continue;
    const line = entryOfLine(text);
    if (line === undefined) bad += 1;
    else lines.push(line);
  }
  return { lines, bad };
}
