/** How an entry lies in the tables. */

import type { Statement } from "better-sqlite3";
import { Refusal } from "../quantity/index.ts";
import { canonicalJson } from "../setup/fingerprint.ts";
import type { JsonObject } from "../setup/index.ts";
import type { EntryFile, EntryKind, EntryLink } from "./contract.ts";
import { numbersOf } from "./numbers.ts";
import type { EntryRecord } from "./record.ts";

export type Prepare = (sql: string) => Statement;

export interface EntryRow {
  readonly id: number;
  readonly uid: string;
  readonly kind: EntryKind;
  readonly at: string;
  readonly recorded: string;
  readonly author: string;
  readonly title: string;
  readonly text: string;
  readonly element: string;
  readonly body: string;
  readonly digest: string;
}

const LINKS_OF = `SELECT link.role AS role, entry.uid AS "to" FROM link JOIN entry ON entry.id = link.target
  WHERE link.entry = ? ORDER BY link.role, entry.uid`;
const FILES_OF = `SELECT file.part AS part, file.sha256 AS sha256, file.name AS name, blob.media AS media,
  blob.bytes AS bytes FROM file JOIN blob ON blob.sha256 = file.sha256 WHERE file.entry = ? ORDER BY file.part`;

/** The entry of a row, with its links and files. */
export function recordOfRow(prepare: Prepare, row: EntryRow): EntryRecord {
  const { id, uid, kind, at, recorded, title, text, element } = row;
  return {
    uid,
    kind,
    at,
    recorded,
    by: row.author,
    title,
    text,
    element,
    body: JSON.parse(row.body) as JsonObject,
    links: prepare(LINKS_OF).all(id) as EntryLink[],
    files: prepare(FILES_OF).all(id) as EntryFile[],
  };
}

export interface Stored {
  /** what the database finds wrong with itself; empty when it is whole */
  faults(): readonly string[];
  /** digest of an entry as it was when written */
  digest(id: number): string;
}

/**
 * Inserts one entry with its files and links; call it within a transaction.
 * @param prepare gives a statement for some SQL
 * @param record the entry, with its number only where it must have that one
 * @returns the entry's number
 */
export function insertRecord(
  prepare: Prepare,
  record: EntryRecord & { readonly digest: string; readonly id?: number },
): number {
  const { uid, kind, at, recorded, by, title, text, element, digest } = record;
  const { lastInsertRowid } = prepare(
    `INSERT INTO entry (id, uid, kind, at, recorded, author, title, text, element, body, digest)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(
    record.id ?? null,
    uid,
    kind,
    at,
    recorded,
    by,
    title,
    text,
    element,
    canonicalJson(record.body),
    digest,
  );
  const id = Number(lastInsertRowid);
  for (const file of record.files) {
    prepare("INSERT OR IGNORE INTO blob (sha256, bytes, media) VALUES (?, ?, ?)").run(
      file.sha256,
      file.bytes,
      file.media,
    );
    prepare("INSERT INTO file (entry, part, name, sha256) VALUES (?, ?, ?, ?)").run(
      id,
      file.part,
      file.name,
      file.sha256,
    );
  }
  for (const { role, to } of record.links) {
    const { changes } = prepare(
      "INSERT INTO link (entry, role, target) SELECT ?, ?, id FROM entry WHERE uid = ?",
    ).run(id, role, to);
    if (changes === 0) throw noTarget(uid, to);
  }
  insertSearch(prepare, id, record);
  return id;
}

/** Makes an entry findable by its words and numbers. */
export function insertSearch(
  prepare: Prepare,
  id: number,
  entry: Pick<EntryRecord, "kind" | "title" | "text" | "by" | "body">,
): void {
  prepare("INSERT INTO words (rowid, title, text, author) VALUES (?, ?, ?, ?)").run(
    id,
    entry.title,
    entry.text,
    entry.by,
  );
  for (const [name, value] of numbersOf(entry.kind, entry.body)) {
    prepare("INSERT OR IGNORE INTO number (name, value, entry) VALUES (?, ?, ?)").run(name, value, id);
  }
}

function noTarget(uid: string, to: string): Refusal {
  return new Refusal({
    code: "no-entry",
    field: uid,
    received: `a link to ${to}, which is not in this notebook`,
    expected: "an entry that is here already",
  });
}
