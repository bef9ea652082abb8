/** Opens the database of a notebook: made where new, brought up to date where old (after a backup), refused where foreign. */

import {
  accessSync,
  constants,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import Database from "better-sqlite3";
import { Refusal } from "../quantity/index.ts";
import { touching } from "./failure.ts";
import { APPLICATION_ID, STEPS } from "./schema.ts";

export const DATABASE_NAME = "notebook.sqlite";
export const SCHEMA_VERSION = STEPS.length;
/** How long one process waits for another one's entry to be written, ms. */
const PATIENCE = 10_000;

export interface Opened {
  readonly db: Database.Database;
  /** takes away what was made only for this opening */
  readonly release: () => void;
}

export interface DatabaseOptions {
  /** nothing will be written: works on a disk that may only be read, too */
  readonly readOnly?: boolean;
  /** time for the name of a backup */
  readonly now: Date;
}

export function openDatabase(folder: string, options: DatabaseOptions): Opened {
  return touching(folder, () => {
    if (isWritable(folder)) {
      const db = openAt(join(folder, DATABASE_NAME), options);
      return { db, release: () => db.close() };
    }
    if (options.readOnly !== true) {
      throw Object.assign(new Error("read-only"), { code: "EROFS" });
    }
    // A database in this mode needs a lock file beside it, so it is read from a copy.
    const copy = mkdtempSync(join(tmpdir(), "crossprism-notebook-"));
    const remove = (): void => rmSync(copy, { recursive: true, force: true });
    try {
      for (const name of [DATABASE_NAME, `${DATABASE_NAME}-wal`])
        if (existsSync(join(folder, name))) copyFileSync(join(folder, name), join(copy, name));
      const db = openAt(join(copy, DATABASE_NAME), options);
      return {
        db,
        release: () => {
          db.close();
          remove();
        },
      };
    } catch (error) {
      remove();
      throw error;
    }
  });
}

function isWritable(folder: string): boolean {
  try {
    accessSync(folder, constants.W_OK);
    const file = join(folder, DATABASE_NAME);
    if (existsSync(file)) accessSync(file, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

function openAt(path: string, options: DatabaseOptions): Database.Database {
  const db = new Database(path, { timeout: PATIENCE });
  try {
    db.pragma("journal_mode = WAL");
    // An acknowledged entry is on the disk even if the power fails.
    db.pragma("synchronous = FULL");
    db.pragma("foreign_keys = ON");
    db.pragma("trusted_schema = OFF");
    // Without this a REPLACE would remove rows behind the triggers' back.
    db.pragma("recursive_triggers = ON");
    migrate(db, path, options);
    if (options.readOnly === true) db.pragma("query_only = ON");
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function versionOf(db: Database.Database): number {
  return db.pragma("user_version", { simple: true }) as number;
}

function migrate(db: Database.Database, path: string, options: DatabaseOptions): void {
  const target = SCHEMA_VERSION;
  const found = versionOf(db);
  refuseForeign(db, path, found);
  if (found >= target) return;
  if (found > 0) backUp(db, path, found, options.now);
  db.transaction(() => {
    // Asked again under the lock: another process may just have done it.
    for (let version = versionOf(db); version < target; version++) STEPS[version](db);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    db.pragma(`user_version = ${target}`);
  }).immediate();
}

function refuseForeign(db: Database.Database, path: string, version: number): void {
  const id = db.pragma("application_id", { simple: true });
  const empty = version === 0 && db.prepare("SELECT count(*) FROM sqlite_schema").pluck().get() === 0;
  if (id !== APPLICATION_ID && !empty) {
    throw new Refusal({
      code: "no-notebook",
      field: path,
      received: "a database of another program",
      expected: "a notebook",
    });
  }
  if (version > SCHEMA_VERSION) {
    throw new Refusal({
      code: "newer-notebook",
      field: path,
      received: `a notebook of version ${version}, written by a newer crossprism`,
      expected: `version ${SCHEMA_VERSION} or older`,
    });
  }
}

/** A whole copy of the old file in backups/, before it is changed. */
function backUp(db: Database.Database, path: string, version: number, now: Date): void {
  const place = join(path, "..", "backups");
  mkdirSync(place, { recursive: true });
  const stamp = now.toISOString().replace(/[:.]/g, "-");
  const final = join(place, `${basename(path, ".sqlite")}-v${version}-${stamp}.sqlite`);
  if (existsSync(final)) return;
  const temporary = `${final}.${process.pid}.part`;
  try {
    db.prepare("VACUUM INTO ?").run(temporary);
    renameSync(temporary, final);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
}
