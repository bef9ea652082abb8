/** What a disk or a database says when it fails, as one sentence. Anything else stays the program's own fault. */

import { Refusal } from "../quantity/index.ts";

interface Known {
  readonly code: string;
  readonly received: string;
  readonly expected: string;
}

const FULL: Known = {
  code: "disk-full",
  received: "a disk without room for this entry, which was not written",
  expected: "a disk with free space",
};
const READ_ONLY: Known = {
  code: "read-only",
  received: "a folder that may only be read",
  expected: "a notebook on a disk that can be written",
};
const DAMAGED: Known = {
  code: "notebook-damaged",
  received: "a damaged notebook file",
  expected: "a whole one; 'notebook mend' salvages what can be read",
};
const BUSY: Known = {
  code: "notebook-busy",
  received: "a notebook that another program has been writing to for ten seconds",
  expected: "a moment in which it is free; try again",
};
const UNREACHABLE: Known = {
  code: "cannot-open",
  received: "a file that cannot be opened",
  expected: "a notebook that this user may read and write",
};

function knownFailure(code: string): Known | undefined {
  if (["SQLITE_FULL", "ENOSPC", "EDQUOT", "EFBIG"].includes(code)) return FULL;
  if (/^SQLITE_READONLY/.test(code) || code === "EROFS") return READ_ONLY;
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return DAMAGED;
  if (/^SQLITE_(BUSY|LOCKED)/.test(code)) return BUSY;
  if (/^SQLITE_(CANTOPEN|PERM|AUTH)/.test(code) || ["EACCES", "EPERM"].includes(code)) return UNREACHABLE;
  // A write that the disk broke off: on a full disk SQLite cannot always tell why.
  if (/^SQLITE_IOERR/.test(code))
    return { ...FULL, code: "disk-failed", received: "a disk that failed while writing" };
  return undefined;
}

/** Runs something that touches the disk; what the disk refuses is thrown as a Refusal that names the notebook. */
export function touching<T>(folder: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    const code = (error as { code?: unknown }).code;
    const known = typeof code === "string" ? knownFailure(code) : undefined;
    if (known === undefined || error instanceof Refusal) throw error;
    throw new Refusal({ ...known, field: folder });
  }
}
