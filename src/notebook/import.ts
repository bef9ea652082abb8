/** Entries of an exported notebook taken over into another one: all or none, and twice is as good as once. */

import { z } from "zod";
import { Refusal } from "../quantity/index.ts";
import { isObject, type Json } from "../setup/index.ts";
import { blobName, sha256Of } from "./blobs.ts";
import { ENTRY_KINDS, LINK_ROLES } from "./contract.ts";
import { METADATA_NAME, SPECIFICATION } from "./crate.ts";
import { touching } from "./failure.ts";
import type { Notebook } from "./notebook.ts";
import { digestOf, type EntryRecord } from "./record.ts";
import { ZipReader } from "./zip-read.ts";

export interface Imported {
  /** entries in the crate */
  readonly entries: number;
  /** those that were not here before */
  readonly added: number;
}

const hex = (digits: number) => z.string().regex(new RegExp(`^[0-9a-f]{${digits}}$`));
const time = z.string().regex(/^\d{4}-\d{2}-\d{2}T[\d:.]+Z$/);
const LINE = z.object({
  digest: hex(64),
  entry: z.strictObject({
    uid: hex(32),
    kind: z.enum(ENTRY_KINDS),
    at: time,
    recorded: time,
    by: z.string(),
    title: z.string(),
    text: z.string(),
    element: z.string(),
    body: z.record(z.string(), z.json()),
    links: z.array(z.strictObject({ role: z.enum(LINK_ROLES), to: hex(32) })),
    files: z.array(
      z.strictObject({
        part: z.string(),
        sha256: hex(64),
        name: z.string(),
        media: z.string(),
        bytes: z.number().int().nonnegative(),
      }),
    ),
  }),
});

/**
 * @param path ZIP file as `exportNotebook` writes it
 * @throws Refusal where it is no crate, holds no notebook, or anything in it is not as it was written
 */
export function importNotebook(notebook: Notebook, path: string): Imported {
  return touching(path, () => {
    const zip = new ZipReader(path);
    try {
      requireNotebook(zip, path);
      const records = recordsOf(zip.read("entries.ndjson").toString("utf8"), path);
      keepFiles(notebook, zip, records, path);
      return { entries: records.length, added: notebook.takeOver(records) };
    } finally {
      zip.close();
    }
  });
}

/** "Finding the Root Data Entity": through the descriptor that conforms to the specification. */
function requireNotebook(zip: ZipReader, path: string): void {
  if (!zip.names().includes(METADATA_NAME)) throw bad(path, `an archive without ${METADATA_NAME}`);
  let metadata: Json;
  try {
    metadata = JSON.parse(zip.read(METADATA_NAME).toString("utf8")) as Json;
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw bad(path, `an archive whose ${METADATA_NAME} is no JSON`);
  }
  const listed = isObject(metadata) ? metadata["@graph"] : undefined;
  const graph = (Array.isArray(listed) ? listed : []).filter(isObject);
  const descriptor = graph.find((entity) =>
    idsOf(entity["conformsTo"]).some((id) => id.startsWith(SPECIFICATION.slice(0, -"1.1".length))),
  );
  const [rootId] = idsOf(descriptor?.["about"]);
  const root = graph.find((entity) => entity["@id"] === rootId);
  if (root === undefined) throw bad(path, "an archive that is no RO-Crate");
  if (!idsOf(root["hasPart"]).includes("entries.ndjson"))
    throw bad(path, "an RO-Crate that holds no notebook");
}

function idsOf(value: Json | undefined): string[] {
  const all: readonly (Json | undefined)[] = Array.isArray(value) ? value : [value];
  return all.flatMap((each) => (isObject(each) && typeof each["@id"] === "string" ? [each["@id"]] : []));
}

function recordsOf(text: string, path: string): EntryRecord[] {
  return text
    .split("\n")
    .filter((line) => line !== "")
    .map((line, i) => {
      let value: unknown;
      try {
        value = JSON.parse(line);
      } catch {
        throw bad(path, `entries.ndjson whose line ${i + 1} is no JSON`);
      }
      const parsed = LINE.safeParse(value);
      if (!parsed.success) throw bad(path, `entries.ndjson whose line ${i + 1} is no entry`);
      const record: EntryRecord = parsed.data.entry;
      if (digestOf(record) === parsed.data.digest) return record;
      throw bad(path, `entries.ndjson whose line ${i + 1} is not as it was written`);
    });
}

function keepFiles(notebook: Notebook, zip: ZipReader, records: readonly EntryRecord[], path: string): void {
  const done = new Set<string>();
  for (const { files } of records) {
    for (const { sha256, media } of files) {
      if (done.has(sha256)) continue;
      const name = blobName(sha256, media);
      const bytes = zip.read(name);
      // Checked before it is kept: nothing of a damaged crate stays behind under a name that is not its own.
      if (sha256Of(bytes) !== sha256) throw bad(path, `${name} that is not as it was kept`);
      if (notebook.keepFile(bytes).media !== media) throw bad(path, `${name} that is no ${media}`);
      done.add(sha256);
    }
  }
}

function bad(path: string, received: string): Refusal {
  return new Refusal({
    code: "bad-crate",
    field: path,
    received,
    expected: "a notebook exported by this program",
  });
}
