/** A notebook, or one run of it, as an RO-Crate 1.1 in a ZIP file that others can open without this program. */

import { crateMetadata, type CrateAbout, type CrateFile, METADATA_NAME } from "./crate.ts";
import { ABOUT_ENTRIES, numbersTable, previewPage } from "./crate-pages.ts";
import { documentOf } from "./bench-entries.ts";
import { sha256Of } from "./blobs.ts";
import type { Entry } from "./contract.ts";
import { touching } from "./failure.ts";
import type { Notebook } from "./notebook.ts";
import { digestOf, recordOf } from "./record.ts";
import { ZipWriter } from "./zip-write.ts";

export interface ExportOptions {
  /** reference to a run: only it, what belongs to it and what that points to */
  readonly run?: string;
  readonly name?: string;
  readonly description?: string;
  /** address of a licence, or words; without it the crate says that none was given */
  readonly license?: string;
  /** clock; the system's where not given */
  readonly now?: () => Date;
}

export interface Exported {
  readonly entries: number;
  readonly files: number;
}

/**
 * @param path the ZIP file to write; it stands there only once it is whole
 * @throws Refusal where a kept file is damaged, or the disk refuses
 */
export function exportNotebook(notebook: Notebook, path: string, options: ExportOptions = {}): Exported {
  const run = options.run === undefined ? undefined : notebook.getKind(options.run, "run", "run");
  const entries = run === undefined ? [...notebook.all()] : entriesAround(notebook, run);
  const about: CrateAbout = {
    name: options.name ?? run?.title ?? notebook.summary().name,
    description:
      options.description ??
      "Notebook of crossed-prism experiments: setups, runs with temperatures and remarks, pictures as taken, and readings with their provenance.",
    date: (options.now ?? (() => new Date()))().toISOString(),
    license: options.license ?? "No licence was given: ask the people named in this crate before you use it.",
  };
  return touching(path, () => {
    const zip = new ZipWriter(path);
    try {
      const written = writeCrate(zip, notebook, entries, about);
      zip.close();
      return written;
    } catch (error) {
      zip.abandon();
      throw error;
    }
  });
}

function writeCrate(
  zip: ZipWriter,
  notebook: Notebook,
  entries: readonly Entry[],
  about: CrateAbout,
): Exported {
  const files: CrateFile[] = [];
  const put = (
    path: string,
    content: Uint8Array | string,
    described: Pick<CrateFile, "name" | "description" | "media">,
  ): void => {
    const packed = !/^(?:image\/(?:png|jpeg|webp)|video\/|application\/zip)/.test(described.media);
    zip.add(path, content, packed);
    const bytes = typeof content === "string" ? Buffer.byteLength(content) : content.length;
    files.push({ path, ...described, bytes, sha256: sha256Of(content) });
  };
  const lines = entries.map((entry) => {
    const record = recordOf(entry);
    return `${JSON.stringify({ digest: digestOf(record), entry: record })}\n`;
  });
  put("entries.ndjson", lines.join(""), {
    name: "entries",
    description: "Every entry of the notebook, one JSON object a line, described in entries.md",
    media: "application/x-ndjson",
  });
  put("entries.md", ABOUT_ENTRIES, {
    name: "about entries.ndjson",
    description: "How the entries are written",
    media: "text/markdown",
  });
  put("numbers.csv", numbersTable(entries), {
    name: "numbers",
    description: "Named numbers of the entries, SI units",
    media: "text/csv",
  });
  const paths = new Map<string, string>();
  for (const entry of entries) {
    if (entry.kind === "setup") {
      const path = `setups/${entry.uid}.json`;
      put(path, `${JSON.stringify(documentOf(entry), null, 2)}\n`, {
        name: entry.title,
        description: "Setup file: what stood on the bench",
        media: "application/json",
      });
      paths.set(entry.uid, path);
    }
    for (const file of entry.files) {
      const kept = notebook.file(file.sha256);
      if (!paths.has(kept.name))
        put(kept.name, kept.bytes, { name: file.name, description: entry.title, media: kept.media });
      paths.set(kept.name, kept.name).set(entry.uid, kept.name);
    }
  }
  const computed = entries
    .filter(({ kind }) => kind === "reading" || kind === "forecast" || kind === "plan")
    .map((entry) => {
      const path = `computed/${entry.kind}-${entry.uid}.json`;
      put(path, `${JSON.stringify(entry.body, null, 2)}\n`, {
        name: entry.title,
        description: "Computed numbers in SI units, with their provenance",
        media: "application/json",
      });
      return { entry, path, from: entry.links.flatMap(({ to }) => paths.get(to) ?? []) };
    });
  const metadata = crateMetadata(about, files, entries, computed);
  zip.add(METADATA_NAME, `${JSON.stringify(metadata, null, 2)}\n`);
  zip.add("ro-crate-preview.html", previewPage(about, metadata, entries, files));
  return { entries: entries.length, files: files.length };
}

/** A run, all that belongs to it, what corrects any of that, and everything these point to. Oldest first. */
function entriesAround(notebook: Notebook, run: Entry): Entry[] {
  const taken = new Map<string, Entry>();
  const take = (entry: Entry): void => {
    if (taken.has(entry.uid)) return;
    taken.set(entry.uid, entry);
    for (const { to } of entry.links) take(notebook.get(to));
    for (const uid of entry.correctedBy) take(notebook.get(uid));
  };
  take(run);
  for (const entry of notebook.all())
    if (entry.links.some(({ role, to }) => role === "run" && to === run.uid)) take(entry);
  return [...taken.values()].sort((a, b) => a.id - b.id);
}
