/**
 * The notebook's tables, one step for each version of the file. A step is never changed once it has been released: files
 * of every earlier version must go on opening (test/outside/fixtures/notebook keeps one of each).
 */

import type { Database } from "better-sqlite3";
import type { JsonObject } from "../setup/index.ts";
import { type EntryRow, insertSearch } from "./rows.ts";

/** "CPnb": tells a notebook from any other SQLite file. */
export const APPLICATION_ID = 0x43506e62;

/** Refuses changes of what is written: history only grows. */
function appendOnly(table: string): string {
  return ["UPDATE", "DELETE"]
    .map(
      (verb) =>
        `CREATE TRIGGER ${table}_keeps_${verb.toLowerCase()} BEFORE ${verb} ON ${table} BEGIN
           SELECT RAISE(ABORT, 'nothing in a notebook is changed or removed; add a correction instead');
         END;`,
    )
    .join("\n");
}

const ENTRIES = `
  CREATE TABLE entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE CHECK (length(uid) = 32),
    kind TEXT NOT NULL,
    at TEXT NOT NULL,
    recorded TEXT NOT NULL,
    author TEXT NOT NULL,
    title TEXT NOT NULL,
    text TEXT NOT NULL,
    element TEXT NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body)),
    digest TEXT NOT NULL CHECK (length(digest) = 64)
  ) STRICT;
  CREATE INDEX entry_by_kind ON entry (kind, id);
  CREATE INDEX entry_by_element ON entry (element, id);
  CREATE INDEX entry_by_time ON entry (at);
  CREATE INDEX setup_by_name ON entry (json_extract(body, '$.name'), id) WHERE kind = 'setup';

  CREATE TABLE blob (
    sha256 TEXT NOT NULL PRIMARY KEY CHECK (length(sha256) = 64),
    bytes INTEGER NOT NULL CHECK (bytes >= 0),
    media TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE file (
    entry INTEGER NOT NULL REFERENCES entry (id),
    part TEXT NOT NULL,
    name TEXT NOT NULL,
    sha256 TEXT NOT NULL REFERENCES blob (sha256),
    PRIMARY KEY (entry, part)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX file_by_blob ON file (sha256);

  CREATE TABLE link (
    entry INTEGER NOT NULL REFERENCES entry (id),
    role TEXT NOT NULL,
    target INTEGER NOT NULL REFERENCES entry (id),
    PRIMARY KEY (entry, role, target)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX link_by_target ON link (target, role, entry);
  ${["entry", "blob", "file", "link"].map(appendOnly).join("\n")}
`;

/** Version 2: what entries are searched by. Both follow from the entries themselves. */
const SEARCH = `
  CREATE TABLE number (
    name TEXT NOT NULL,
    value REAL NOT NULL,
    entry INTEGER NOT NULL REFERENCES entry (id),
    PRIMARY KEY (name, value, entry)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX number_by_entry ON number (entry);
  CREATE VIRTUAL TABLE words USING fts5 (
    title, text, author, content = '', prefix = '2 3', tokenize = 'unicode61 remove_diacritics 2'
  );
  ${appendOnly("number")}
`;

function addSearch(db: Database): void {
  db.exec(SEARCH);
  const prepare = (sql: string) => db.prepare(sql);
  for (const row of db.prepare("SELECT * FROM entry").all() as EntryRow[]) {
    insertSearch(prepare, row.id, {
      kind: row.kind,
      title: row.title,
      text: row.text,
      by: row.author,
      body: JSON.parse(row.body) as JsonObject,
    });
  }
}

/** What leads from one version to the next, within one transaction; the first makes an empty file into version 1. */
export const STEPS: readonly ((db: Database) => void)[] = [(db) => db.exec(ENTRIES), addSearch];
