/**
 * Salvage: from a damaged database and the journal beside it, a whole notebook with every entry that can still be read.
 * What was found damaged is set aside, never thrown away, with a list of what is lost and why.
 */

import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Refusal } from "../quantity/index.ts";
import { blobsOnDisk } from "./blobs.ts";
import { DATABASE_NAME } from "./database.ts";
import { touching } from "./failure.ts";
import { JOURNAL_NAME, readJournal } from "./journal.ts";
import { Notebook } from "./notebook.ts";
import type { EntryRecord } from "./record.ts";
import { type Lost, salvageDatabase } from "./salvage.ts";

export interface Mended {
  /** what was found wrong, one sentence each; empty: nothing was, and nothing was done */
  readonly found: readonly string[];
  readonly kept: number;
  /** of these, entries that only the journal still held */
  readonly fromJournal: number;
  readonly lost: readonly Lost[];
  /** SHA-256 of files that entries name and that are gone */
  readonly missingFiles: readonly string[];
  /** folder with the damaged files and the list; "" where nothing was done */
  readonly setAside: string;
}

interface Found {
  readonly record: EntryRecord;
  readonly id: number;
  readonly journal: boolean;
}

/**
 * Mends the notebook in a folder. No other program may have it open.
 * @throws Refusal where there is neither a database nor a journal
 */
export function mendNotebook(folder: string, now: () => Date = () => new Date()): Mended {
  return touching(folder, () => {
    const database = join(folder, DATABASE_NAME);
    if (!existsSync(database) && !existsSync(join(folder, JOURNAL_NAME))) {
      throw new Refusal({
        code: "no-notebook",
        field: folder,
        received: "a folder without a notebook or its journal",
        expected: "the folder of a notebook",
      });
    }
    const fromDatabase = salvageDatabase(database);
    const journal = readJournal(folder);
    const found = [...fromDatabase.faults];
    if (journal.bad > 0) found.push(`${journal.bad} lines of the journal are torn or altered`);
    const entries = new Map<string, Found>();
    for (const { id, record } of fromDatabase.entries)
      entries.set(record.uid, { id, record, journal: false });
    const known = entries.size;
    for (const { id, entry } of journal.lines)
      if (!entries.has(entry.uid)) entries.set(entry.uid, { id, record: entry, journal: true });
    const back = entries.size - known;
    if (back > 0) found.push(`${back} entries stand in the journal only`);
    const journaled = new Set(journal.lines.map(({ entry }) => entry.uid));
    const unwritten = [...entries.keys()].filter((uid) => !journaled.has(uid)).length;
    if (unwritten > 0) found.push(`${unwritten} entries are missing in the journal`);
    const gone = missingFiles(folder, entries.values());
    const alone = { kept: entries.size, fromJournal: back, missingFiles: gone };
    if (found.length === 0) return { found, ...alone, lost: [], setAside: "" };
    return { found, ...rebuild(folder, [...entries.values()], fromDatabase.lost, now()), missingFiles: gone };
  });
}

function rebuild(
  folder: string,
  entries: readonly Found[],
  unread: readonly Lost[],
  now: Date,
): Pick<Mended, "kept" | "fromJournal" | "lost" | "setAside"> {
  const { ordered, lost } = inOrder(entries, unread);
  const fresh = join(folder, ".mending");
  rmSync(fresh, { recursive: true, force: true });
  const notebook = Notebook.create(fresh);
  notebook.takeOver(
    ordered.map(({ record }) => record),
    ordered.map(({ id }) => id),
  );
  notebook.close();
  const setAside = join(folder, "damaged", now.toISOString().replace(/[:.]/g, "-"));
  mkdirSync(setAside, { recursive: true });
  for (const name of [DATABASE_NAME, `${DATABASE_NAME}-wal`, `${DATABASE_NAME}-shm`, JOURNAL_NAME])
    if (existsSync(join(folder, name))) renameSync(join(folder, name), join(setAside, name));
  for (const name of [DATABASE_NAME, JOURNAL_NAME])
    if (existsSync(join(fresh, name))) renameSync(join(fresh, name), join(folder, name));
  rmSync(fresh, { recursive: true, force: true });
  const kept = new Set(ordered.map(({ record }) => record));
  const left = entries.filter(({ record }) => !kept.has(record));
  writeFileSync(
    join(setAside, "lost.json"),
    `${JSON.stringify({ lost, entries: left.map(({ record }) => record) }, null, 2)}\n`,
  );
  return {
    kept: ordered.length,
    fromJournal: ordered.filter(({ journal }) => journal).length,
    lost,
    setAside,
  };
}

/** By number, each number once; an entry whose target is lost cannot stand. */
function inOrder(
  entries: readonly Found[],
  unread: readonly Lost[],
): { readonly ordered: readonly Found[]; readonly lost: readonly Lost[] } {
  const present = new Set<string>();
  const ordered: Found[] = [];
  const lost = [...unread];
  let last = 0;
  for (const each of [...entries].sort((a, b) => a.id - b.id || Number(a.journal) - Number(b.journal))) {
    const target = each.record.links.find(({ to }) => !present.has(to));
    if (target !== undefined) {
      lost.push({ id: each.id, uid: each.record.uid, reason: `it points to ${target.to}, which is lost` });
      continue;
    }
    // An entry that was written but never acknowledged may have left its number to the next one.
    const id = each.id > last ? each.id : last + 1;
    ordered.push({ ...each, id });
    present.add(each.record.uid);
    last = id;
  }
  const back = new Set(ordered.map(({ id }) => id));
  return { ordered, lost: lost.filter(({ id, uid }) => !(uid === "" ? back.has(id) : present.has(uid))) };
}

function missingFiles(folder: string, entries: Iterable<Found>): string[] {
  const there = blobsOnDisk(folder);
  const named = new Set([...entries].flatMap(({ record }) => record.files.map(({ sha256 }) => sha256)));
  return [...named].filter((sha256) => !there.has(sha256)).sort();
}
