import { cpSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePng, encodePng } from "../picture/index.ts";
import { addPicture, addRemark, type Entry, mendNotebook, Notebook, verifyNotebook } from "./index.ts";

let scratch: string;
let model: readonly Entry[];
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-mend-"));
  model = fill(join(scratch, "model"));
});
afterAll(() => rmSync(scratch, { recursive: true }));

const now = () => new Date("2026-03-01T10:00:00Z");
const REMARKS = 300;

/** A copy of a notebook with many remarks, some corrected, and a picture. */
function filled(name: string): { readonly folder: string; readonly entries: readonly Entry[] } {
  const folder = join(scratch, name);
  cpSync(join(scratch, "model"), folder, { recursive: true });
  return { folder, entries: model };
}

function fill(folder: string): readonly Entry[] {
  const notebook = Notebook.create(folder);
  const samples = Uint8Array.of(9, 8, 7, 6);
  addPicture(notebook, encodePng({ columns: 2, rows: 2, channels: 1, depth: 8, samples }), {
    role: "hot",
    name: "h.png",
  });
  let last: Entry | undefined;
  for (let i = 0; i < REMARKS; i++) {
    const corrects = i % 10 === 9 ? { corrects: last!.uid } : {};
    last = addRemark(notebook, {
      text: `remark ${i}: ${"the line leans a little. ".repeat(1 + (i % 5))}`,
      ...corrects,
    });
  }
  const entries = [...notebook.all()];
  notebook.close();
  return entries;
}

async function healthy(folder: string): Promise<readonly Entry[]> {
  const notebook = Notebook.open(folder);
  const { damage } = await verifyNotebook(notebook, (bytes, name) => decodePng(bytes, name));
  expect(damage).toEqual([]);
  const entries = [...notebook.all()];
  notebook.close();
  return entries;
}

/** Overwrites bytes of the database. */
function spoil(folder: string, from: number, length: number): void {
  const path = join(folder, "notebook.sqlite");
  const bytes = readFileSync(path);
  bytes.fill(0xa5, from, from + length);
  writeFileSync(path, bytes);
}

describe("mending", () => {
  it("leaves a whole notebook alone", () => {
    const { folder, entries } = filled("whole");
    expect(mendNotebook(folder, now)).toEqual({
      found: [],
      kept: entries.length,
      fromJournal: 0,
      lost: [],
      missingFiles: [],
      setAside: "",
    });
  });

  it("brings every entry back from the journal when the database's head is gone", async () => {
    const { folder, entries } = filled("head");
    spoil(folder, 0, 4096);
    expect(() => Notebook.open(folder)).toThrow(
      /received a damaged notebook file; .*'notebook mend'|'notebook mend' salvages/,
    );
    const { kept, lost, fromJournal, setAside } = mendNotebook(folder, now);
    expect([kept, lost, fromJournal]).toEqual([entries.length, [], entries.length]);
    expect(statSync(join(setAside, "notebook.sqlite")).size).toBeGreaterThan(4096);
    expect(await healthy(folder)).toEqual(entries);
  });

  it("brings every entry back when the database is gone", async () => {
    const { folder, entries } = filled("gone");
    rmSync(join(folder, "notebook.sqlite"));
    expect(mendNotebook(folder, now).lost).toEqual([]);
    expect(await healthy(folder)).toEqual(entries);
  });

  it("reads around damaged pages without the journal, and lists what is lost", async () => {
    const { folder, entries } = filled("pages");
    rmSync(join(folder, "journal.ndjson"));
    const { size } = statSync(join(folder, "notebook.sqlite"));
    // One page of entries in the middle of the file.
    const page = Math.floor(size / 2 / 4096);
    spoil(folder, page * 4096, 4096);
    const mended = mendNotebook(folder, now);
    expect(mended.found.length).toBeGreaterThan(0);
    expect(mended.kept + mended.lost.length).toBe(entries.length);
    expect(mended.kept).toBeGreaterThan(0.8 * entries.length);
    const left = await healthy(folder);
    const lost = new Set(mended.lost.map(({ id }) => id));
    expect(left.map(({ uid, text }) => [uid, text])).toEqual(
      entries.filter(({ id }) => !lost.has(id)).map(({ uid, text }) => [uid, text]),
    );
    const list = JSON.parse(readFileSync(join(mended.setAside, "lost.json"), "utf8")) as { lost: unknown };
    expect(list.lost).toEqual(mended.lost);
  });

  it("drops an entry whose words were altered, and names it, unless the journal still has it", async () => {
    const { folder, entries } = filled("altered");
    const path = join(folder, "notebook.sqlite");
    const bytes = readFileSync(path);
    const at = bytes.indexOf("remark 123: the");
    bytes.write("remark 124: the", at);
    writeFileSync(path, bytes);
    const opened = Notebook.open(folder);
    const { damage } = await verifyNotebook(opened, (picture, name) => decodePng(picture, name));
    opened.close();
    expect(damage.join()).toContain(`${entries[124].uid} is not as it was written`);
    expect(mendNotebook(folder, now)).toMatchObject({ kept: entries.length, fromJournal: 1, lost: [] });
    expect(await healthy(folder)).toEqual(entries);
  });

  it("goes on after a line of the journal that a crash tore", async () => {
    const { folder, entries } = filled("torn");
    const path = join(folder, "journal.ndjson");
    const text = readFileSync(path, "utf8");
    writeFileSync(path, text.slice(0, -40));
    const notebook = Notebook.open(folder);
    const more = addRemark(notebook, { text: "after the crash" });
    notebook.close();
    rmSync(join(folder, "notebook.sqlite"));
    const { kept, found } = mendNotebook(folder, now);
    expect([kept, found]).toEqual([
      entries.length,
      [
        "the database is gone",
        "1 lines of the journal are torn or altered",
        `${entries.length} entries stand in the journal only`,
      ],
    ]);
    expect((await healthy(folder)).at(-1)?.uid).toBe(more.uid);
  });

  it("names files that are gone, and refuses an empty folder", () => {
    const { folder, entries } = filled("files");
    rmSync(join(folder, "files"), { recursive: true });
    expect(mendNotebook(folder, now)).toMatchObject({
      missingFiles: [entries[0].files[0].sha256],
      setAside: "",
    });
    expect(() => mendNotebook(scratch, now)).toThrow(
      /received a folder without a notebook or its journal\.$/,
    );
  });
});
