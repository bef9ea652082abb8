import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import Database from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addRemark, logTemperatures, Notebook } from "./index.ts";
import { SCHEMA_VERSION } from "./database.ts";
import { verifyNotebook } from "./verify.ts";
import { decodePng } from "../picture/index.ts";

const fixtures = fileURLToPath(new URL("../../test/outside/fixtures/notebook/", import.meta.url));
let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-search-"));
});
afterAll(() => rmSync(scratch, { recursive: true }));

const versions = readdirSync(fixtures);

/** A copy of a notebook as an earlier version of the program left it. */
function copied(version: string): string {
  const folder = join(scratch, `${version}-${readdirSync(scratch).length}`);
  cpSync(join(fixtures, version), folder, { recursive: true });
  return folder;
}

describe("notebooks of every version of the file", () => {
  it("have a fixture each", () => {
    expect(versions).toEqual(Array.from({ length: SCHEMA_VERSION }, (_, i) => `v${i + 1}`));
  });

  it.each(versions)("%s opens, says what it held, and takes new entries", async (version) => {
    const folder = copied(version);
    const notebook = Notebook.open(folder);
    expect(notebook.summary()).toMatchObject({ entries: 8, pictures: 1, runs: 1 });
    const run = notebook.find({ kinds: ["run"] }).entries[0];
    expect(run.title).toBe("Fixture run, invented");
    const { entries } = notebook.find({ number: { name: "columnGradient", least: -3e21, most: -2e21 } });
    expect(entries.map(({ kind }) => kind)).toEqual(["reading"]);
    expect(notebook.find({ words: "uber", run: run.uid }).entries[0].text).toContain("über");
    addRemark(notebook, { text: "written by a later program" });
    expect(notebook.find({ words: "later" }).entries).toHaveLength(1);
    const { damage } = await verifyNotebook(notebook, (bytes, name) => decodePng(bytes, name));
    expect(damage).toEqual([]);
    notebook.close();
  });

  it("are backed up whole before they are changed", () => {
    const folder = copied("v1");
    const before = new Database(join(folder, "notebook.sqlite"), { readonly: true });
    const rows = before.prepare("SELECT * FROM entry").all();
    before.close();
    Notebook.open(folder).close();
    const [name, ...more] = readdirSync(join(folder, "backups"));
    expect([name.startsWith("notebook-v1-"), more]).toEqual([true, []]);
    const backup = new Database(join(folder, "backups", name), { readonly: true });
    expect(backup.pragma("user_version", { simple: true })).toBe(1);
    expect(backup.prepare("SELECT * FROM entry").all()).toEqual(rows);
    backup.close();
    Notebook.open(folder).close();
    expect(readdirSync(join(folder, "backups"))).toHaveLength(1);
  });

  it("of a later program, and files of other programs, are refused", () => {
    const folder = copied("v1");
    const path = join(folder, "notebook.sqlite");
    const later = new Database(path);
    later.pragma("user_version = 99");
    later.close();
    expect(() => Notebook.open(folder)).toThrow(
      /received a notebook of version 99, written by a newer crossprism/,
    );
    rmSync(path);
    const other = new Database(path);
    other.exec("CREATE TABLE recipes (name)");
    other.close();
    expect(() => Notebook.open(folder)).toThrow(/received a database of another program/);
    expect(readFileSync(path).length).toBeGreaterThan(0);
  });
});

describe("search", () => {
  it("finds words, their beginnings and their plain letters, in any order, and takes nothing for an operator", () => {
    const notebook = Notebook.create(join(scratch, "words"));
    addRemark(notebook, { text: "Flicker above the tube, gas too dense", by: "Zoë" });
    addRemark(notebook, { text: 'window "browned" NEAR the metal; tube turned' });
    const texts = (words: string): number[] => notebook.find({ words }).entries.map(({ id }) => id);
    expect(texts("tube")).toEqual([2, 1]);
    expect(texts("gas flicker")).toEqual([1]);
    expect(texts("brown*")).toEqual([2]);
    expect(texts("brown")).toEqual([]);
    expect(texts("zoe")).toEqual([1]);
    expect(texts('"browned" NEAR')).toEqual([2]);
    for (const odd of ["OR", "NOT", "title:", "(", "-", '"', "*", "a AND", "^tube"])
      expect(() => texts(odd), odd).not.toThrow();
    expect(texts("   ")).toEqual([2, 1]);
    notebook.close();
  });

  it("finds temperatures between two ends", () => {
    const folder = copied("v1");
    const notebook = Notebook.open(folder);
    const [run] = notebook.find({ kinds: ["run"] }).entries;
    for (const bottom of [500, 510, 520])
      logTemperatures(notebook, { run: run.uid, temperatures: { bottom } });
    const found = notebook.find({ number: { name: "temperature.bottom", least: 505, most: 515 } }).entries;
    expect(found.map(({ body }) => body)).toEqual([{ temperatures: { bottom: 510 } }]);
    expect(notebook.find({ number: { name: "temperature.bottom", least: 505 } }).entries).toHaveLength(3);
    notebook.close();
  });
});
