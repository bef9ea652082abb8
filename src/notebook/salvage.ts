/** Reads what can still be read from a damaged database, around the pages that cannot. */

import { existsSync } from "node:fs";
import Database from "better-sqlite3";
import { digestOf, type EntryRecord } from "./record.ts";
import { type EntryRow, recordOfRow } from "./rows.ts";

export interface Lost {
  /** number in the notebook */
  readonly id: number;
  /** "" where not even the name can be read */
  readonly uid: string;
  readonly reason: string;
}

export interface Salvaged {
  /** entries that are as they were written, oldest first */
  readonly entries: readonly { readonly id: number; readonly record: EntryRecord }[];
  readonly lost: readonly Lost[];
  /** what is wrong, one sentence each; empty for a whole database */
  readonly faults: readonly string[];
}

export function salvageDatabase(path: string): Salvaged {
  if (!existsSync(path)) return { entries: [], lost: [], faults: ["the database is gone"] };
  let db: Database.Database;
  try {
    db = new Database(path);
  } catch (error) {
    return { entries: [], lost: [], faults: [`the database cannot be opened: ${sentence(error)}`] };
  }
  try {
    return readAround(db);
  } finally {
    db.close();
  }
}

function readAround(db: Database.Database): Salvaged {
  const faults = integrity(db);
  const entries: { id: number; record: EntryRecord }[] = [];
  const lost: Lost[] = [];
  for (const row of readableRows(db, faults, lost)) {
    const record = attempt(() => recordOfRow((sql) => db.prepare(sql), row));
    if (record !== undefined && digestOf(record) === row.digest) entries.push({ id: row.id, record });
    else lost.push({ id: row.id, uid: row.uid, reason: "it is not as it was written" });
  }
  if (lost.length > 0) faults.push(`${lost.length} entries of the database cannot be read`);
  return { entries: entries.sort((a, b) => a.id - b.id), lost, faults };
}

function integrity(db: Database.Database): string[] {
  try {
    const rows = db.pragma("integrity_check(20)") as { integrity_check: string }[];
    return rows.map((row) => row.integrity_check).filter((text) => text !== "ok");
  } catch (error) {
    return [`the database cannot be checked: ${sentence(error)}`];
  }
}

/** Rows from the front until one cannot be read, from the back likewise, and between them one by one. */
function readableRows(db: Database.Database, faults: string[], lost: Lost[]): EntryRow[] {
  const rows = new Map<number, EntryRow>();
  const sweep = (order: "ASC" | "DESC"): number | undefined => {
    let last: number | undefined;
    try {
      for (const row of db
        .prepare(`SELECT * FROM entry NOT INDEXED ORDER BY id ${order}`)
        .iterate() as Iterable<EntryRow>) {
        if (rows.has(row.id)) return undefined;
        rows.set(row.id, row);
        last = row.id;
      }
      return undefined;
    } catch (error) {
      faults.push(
        `reading stopped ${last === undefined ? "at once" : `beside entry ${last}`}: ${sentence(error)}`,
      );
      return last ?? (order === "ASC" ? 0 : Number.NaN);
    }
  };
  const front = sweep("ASC");
  if (front === undefined) return [...rows.values()];
  const back = sweep("DESC") ?? front;
  const end = Number.isNaN(back) ? (attempt(() => lastNumber(db)) ?? front) + 1 : back;
  for (let id = front + 1; id < end; id++) {
    if (rows.has(id)) continue;
    const row = attempt(() => db.prepare("SELECT * FROM entry WHERE id = ?").get(id) as EntryRow | undefined);
    if (row === undefined) lost.push({ id, uid: "", reason: "its place in the database cannot be read" });
    else rows.set(id, row);
  }
  return [...rows.values()];
}

function lastNumber(db: Database.Database): number {
  return db.prepare("SELECT seq FROM sqlite_sequence WHERE name = 'entry'").pluck().get() as number;
}

function attempt<T>(act: () => T): T | undefined {
  try {
    return act();
  } catch {
    return undefined;
  }
}

function sentence(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
