/**
 * A notebook: a folder with a database of entries, a journal of the same entries as text, and the files that belong to
 * them. Entries are added and never changed; a correction is a new entry that points to the old one.
 */

import { accessSync, constants, existsSync, mkdirSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import type { Database, Statement } from "better-sqlite3";
import { Refusal } from "../quantity/index.ts";
import type { JsonObject } from "../setup/index.ts";
import { blobName, keepBlob, readBlob } from "./blobs.ts";
import type {
  Entry,
  EntryFile,
  EntryKind,
  EntryLink,
  LinkRole,
  NotebookPage,
  NotebookQuery,
  NotebookSummary,
} from "./contract.ts";
import { DATABASE_NAME, openDatabase } from "./database.ts";
import { touching } from "./failure.ts";
import { appendLines } from "./journal.ts";
import { digestOf, lineOf, newUid, type EntryRecord, timeOf } from "./record.ts";
import { queryRows } from "./query.ts";
import { type EntryRow, insertRecord, recordOfRow, type Stored } from "./rows.ts";

/** An entry about to be added. */
export interface Draft {
  readonly kind: EntryKind;
  /** ISO date or time; now where not given */
  readonly at?: string;
  readonly by?: string;
  readonly title: string;
  readonly text?: string;
  readonly element?: string;
  readonly body?: JsonObject;
  /** references (uid, beginning of a uid, or number) to entries in this notebook */
  readonly links?: readonly { readonly role: LinkRole; readonly to: string }[];
  readonly files?: readonly { readonly part: string; readonly name: string; readonly bytes: Uint8Array }[];
}

export interface NotebookOptions {
  readonly readOnly?: boolean;
  /** the clock; the system's where not given */
  readonly now?: () => Date;
}

export class Notebook {
  readonly folder: string;
  readonly #db: Database;
  readonly #release: () => void;
  readonly #now: () => Date;
  readonly #statements = new Map<string, Statement>();

  private constructor(folder: string, options: NotebookOptions) {
    this.folder = resolve(folder);
    this.#now = options.now ?? (() => new Date());
    const { db, release } = openDatabase(this.folder, {
      readOnly: options.readOnly ?? false,
      now: this.#now(),
    });
    this.#db = db;
    this.#release = release;
  }

  /** @throws Refusal where a notebook stands already, or the folder cannot be made */
  static create(folder: string, options: NotebookOptions = {}): Notebook {
    if (existsSync(join(folder, DATABASE_NAME))) {
      throw new Refusal({
        code: "notebook-exists",
        field: folder,
        received: "a folder that holds a notebook",
        expected: "a new or empty folder",
      });
    }
    touching(folder, () => {
      const parent = dirname(resolve(folder));
      // Asked first, since on a disk that may only be read mkdir answers that there is no such folder.
      if (existsSync(parent)) accessSync(parent, constants.W_OK);
      mkdirSync(folder, { recursive: true });
    });
    return new Notebook(folder, options);
  }

  /** @throws Refusal where there is none, or it is damaged, foreign, newer than this program, or not writable */
  static open(folder: string, options: NotebookOptions = {}): Notebook {
    if (!existsSync(join(folder, DATABASE_NAME))) {
      throw new Refusal({
        code: "no-notebook",
        field: folder,
        received: "a folder without a notebook",
        expected: "a folder made by 'notebook new'",
      });
    }
    return new Notebook(folder, options);
  }

  static openOrCreate(folder: string, options: NotebookOptions = {}): Notebook {
    return existsSync(join(folder, DATABASE_NAME))
      ? Notebook.open(folder, options)
      : Notebook.create(folder, options);
  }

  close(): void {
    this.#release();
  }

  /**
   * Adds one entry. When this returns, the entry and its files are on the disk.
   * @param draft the entry, or what makes it inside the write lock (so that it may count what is there)
   */
  add(draft: Draft | (() => Draft)): Entry {
    return touching(this.folder, () => {
      if (typeof draft === "function")
        return this.#db.transaction(() => this.#insert(draft(), [])).immediate();
      // Files first and outside the lock: they are large, and one too many does no harm.
      const files = (draft.files ?? []).map((file): EntryFile => {
        const kept = keepBlob(this.folder, file.bytes);
        return { part: file.part, name: basename(file.name), bytes: file.bytes.length, ...kept };
      });
      return this.#db.transaction(() => this.#insert(draft, files)).immediate();
    });
  }

  #insert(draft: Draft, files: readonly EntryFile[]): Entry {
    const recorded = this.#now().toISOString();
    const links = (draft.links ?? []).map(({ role, to }): EntryLink => ({ role, to: this.get(to).uid }));
    const record: EntryRecord = {
      uid: newUid(),
      kind: draft.kind,
      at: draft.at === undefined ? recorded : timeOf(draft.at, "at"),
      recorded,
      by: draft.by ?? "",
      title: draft.title,
      text: draft.text ?? "",
      element: draft.element ?? "",
      body: draft.body ?? {},
      links,
      files,
    };
    const { id, line } = this.#write(record);
    appendLines(this.folder, line);
    return { id, ...record, correctedBy: [] };
  }

  #write(record: EntryRecord, number?: number): { readonly id: number; readonly line: string } {
    const digest = digestOf(record);
    const numbered = { ...record, ...(number === undefined ? {} : { id: number }), digest };
    const id = insertRecord((sql) => this.#sql(sql), numbered);
    return { id, line: lineOf(id, record, digest) };
  }

  /**
   * Takes over entries of another notebook, all or none; those that are here already are left alone. Their files must
   * have been kept before, and entries pointed to must be here or come earlier in the list.
   * @param numbers the number of each entry, where they must keep those they had
   * @returns how many were new
   */
  takeOver(records: readonly EntryRecord[], numbers?: readonly number[]): number {
    return touching(this.folder, () =>
      this.#db
        .transaction(() => {
          const lines: string[] = [];
          for (const [i, record] of records.entries()) {
            const here = this.#sql("SELECT digest FROM entry WHERE uid = ?").pluck().get(record.uid);
            if (here === undefined) lines.push(this.#write(record, numbers?.[i]).line);
            else if (here !== digestOf(record)) throw conflict(record.uid);
          }
          if (lines.length > 0) appendLines(this.folder, lines.join(""));
          return lines.length;
        })
        .immediate(),
    );
  }

  /** Keeps a file that came with entries of another notebook. */
  keepFile(bytes: Uint8Array): { readonly sha256: string; readonly media: string } {
    return touching(this.folder, () => keepBlob(this.folder, bytes));
  }

  /** @throws Refusal where no entry, or more than one, is meant by the reference */
  get(reference: string | number, field = "entry"): Entry {
    return touching(this.folder, () => {
      const text = String(reference).replace(/^#/, "");
      const rows = /^\d{1,15}$/.test(text)
        ? this.#sql("SELECT * FROM entry WHERE id = ?").all(Number(text))
        : /^[0-9a-f]{6,32}$/.test(text)
          ? this.#sql("SELECT * FROM entry WHERE uid >= ? AND uid <= ? LIMIT 2").all(text, `${text}g`)
          : [];
      if (rows.length === 1) return this.#entry(rows[0] as EntryRow);
      throw new Refusal({
        code: "no-entry",
        field,
        received: rows.length > 1 ? `${text}, which begins several names` : text,
        expected: "the number of an entry, or its name or at least six digits of it",
      });
    });
  }

  /** @throws Refusal where the entry is of another kind */
  getKind(reference: string | number, kind: EntryKind, field: string): Entry {
    const entry = this.get(reference, field);
    if (entry.kind === kind) return entry;
    throw new Refusal({
      code: "wrong-kind",
      field,
      received: `entry ${entry.id}, a ${entry.kind}`,
      expected: `a ${kind}`,
    });
  }

  find(query: NotebookQuery = {}): NotebookPage {
    return touching(this.folder, () => {
      const run = query.run === undefined ? undefined : this.getKind(query.run, "run", "run").id;
      const { rows, next } = queryRows((sql) => this.#sql(sql), query, run);
      return { entries: rows.map((row) => this.#entry(row)), next };
    });
  }

  /** All entries, oldest first, one after another. */
  *all(): Generator<Entry> {
    for (let after = 0; ; ) {
      const rows = this.#sql("SELECT * FROM entry WHERE id > ? ORDER BY id LIMIT 200").all(
        after,
      ) as EntryRow[];
      if (rows.length === 0) return;
      for (const row of rows) yield this.#entry(row);
      after = rows[rows.length - 1].id;
    }
  }

  /** Newest setup of a name; undefined where there is none. */
  latestSetup(name: string): Entry | undefined {
    const row = this.#sql(
      "SELECT * FROM entry WHERE kind = 'setup' AND json_extract(body, '$.name') = ? ORDER BY id DESC LIMIT 1",
    ).get(name);
    return row === undefined ? undefined : this.#entry(row as EntryRow);
  }

  summary(): NotebookSummary {
    return touching(this.folder, () => {
      const count = (sql: string): number => this.#sql(sql).pluck().get() as number;
      return {
        name: basename(this.folder),
        entries: count("SELECT count(*) FROM entry"),
        pictures: count("SELECT count(*) FROM entry WHERE kind = 'picture'"),
        runs: count("SELECT count(*) FROM entry WHERE kind = 'run'"),
      };
    });
  }

  /** @throws Refusal where there is no such file, or it is no longer what was kept */
  file(sha256: string): { readonly bytes: Buffer; readonly media: string; readonly name: string } {
    return touching(this.folder, () => {
      const media = this.#sql("SELECT media FROM blob WHERE sha256 = ?").pluck().get(sha256);
      if (typeof media === "string")
        return { bytes: readBlob(this.folder, sha256, media), media, name: blobName(sha256, media) };
      throw new Refusal({
        code: "no-file",
        field: "sha256",
        received: sha256,
        expected: "the SHA-256 of a file in this notebook, 64 hex digits",
      });
    });
  }

  /** Rows as they stand, with their digests, for checking. */
  stored(): Stored {
    return {
      faults: () => {
        const found = this.#db.pragma("integrity_check") as { integrity_check: string }[];
        const broken = this.#db.pragma("foreign_key_check") as unknown[];
        return [
          ...found.map((row) => row.integrity_check).filter((text) => text !== "ok"),
          ...broken.map(() => "an entry points to one that is not there"),
        ];
      },
      digest: (id) => this.#sql("SELECT digest FROM entry WHERE id = ?").pluck().get(id) as string,
    };
  }

  #entry(row: EntryRow): Entry {
    return {
      id: row.id,
      ...recordOfRow((sql) => this.#sql(sql), row),
      correctedBy: this.#sql(
        `SELECT entry.uid FROM link JOIN entry ON entry.id = link.entry
         WHERE link.target = ? AND link.role = 'corrects' ORDER BY link.entry`,
      )
        .pluck()
        .all(row.id) as string[],
    };
  }

  #sql(sql: string): Statement {
    let statement = this.#statements.get(sql);
    if (statement === undefined) {
      statement = this.#db.prepare(sql);
      this.#statements.set(sql, statement);
    }
    return statement;
  }
}

function conflict(uid: string): Refusal {
  return new Refusal({
    code: "entry-conflict",
    field: uid,
    received: "an entry that differs from the one kept here under the same name",
    expected: "the same content",
  });
}
