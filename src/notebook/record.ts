/** An entry as it is written: checked, with a digest of its content, and as a line of the journal. */

import { randomBytes } from "node:crypto";
import { Refusal } from "../quantity/index.ts";
import { canonicalJson } from "../setup/fingerprint.ts";
import type { JsonObject } from "../setup/index.ts";
import { sha256Of } from "./blobs.ts";
import type { Entry, EntryFile, EntryKind, EntryLink } from "./contract.ts";

/** All of an entry that is the same in every notebook. */
export interface EntryRecord {
  readonly uid: string;
  readonly kind: EntryKind;
  readonly at: string;
  readonly recorded: string;
  readonly by: string;
  readonly title: string;
  readonly text: string;
  readonly element: string;
  readonly body: JsonObject;
  readonly links: readonly EntryLink[];
  readonly files: readonly EntryFile[];
}

/** An entry without what belongs to one notebook only. */
export function recordOf(entry: Entry): EntryRecord {
  const { id: _id, correctedBy: _correctedBy, ...record } = entry;
  return record;
}

export function newUid(): string {
  return randomBytes(16).toString("hex");
}

/** Content digest: SHA-256 of the canonical JSON (keys sorted, links and files in order). */
export function digestOf(record: EntryRecord): string {
  const { uid, kind, at, recorded, by, title, text, element, body } = record;
  const links = [...record.links].sort((a, b) => compare(`${a.role} ${a.to}`, `${b.role} ${b.to}`));
  const files = [...record.files].sort((a, b) => compare(a.part, b.part));
  return sha256Of(canonicalJson({ uid, kind, at, recorded, by, title, text, element, body, links, files }));
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A time as a person or a program gives it, as ISO 8601 in UTC to the millisecond. */
export function timeOf(text: string, field: string): string {
  const time = /^\d{4}-\d{2}-\d{2}/.test(text) ? new Date(text) : new Date(Number.NaN);
  if (!Number.isNaN(time.getTime())) return time.toISOString();
  throw new Refusal({
    code: "bad-time",
    field,
    received: JSON.stringify(text),
    expected: "a date or time such as 2026-03-01 or 2026-03-01T14:05+01:00",
  });
}

/** One line that holds the whole entry; a torn line is known by its digest. */
export function lineOf(id: number, record: EntryRecord, digest: string): string {
  return `${JSON.stringify({ id, digest, entry: record })}\n`;
}

export interface Line {
  readonly id: number;
  readonly digest: string;
  readonly entry: EntryRecord;
}

/** The entry on a line; undefined where the line is torn or altered. */
export function entryOfLine(text: string): Line | undefined {
  try {
    const line = JSON.parse(text) as Line;
    return digestOf(line.entry) === line.digest ? line : undefined;
  } catch {
    return undefined;
  }
}
