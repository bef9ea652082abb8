import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePng, encodePng, type Frame } from "../picture/index.ts";
import { parseJsonObject, type JsonObject } from "../setup/index.ts";
import { addPicture, addRemark, addSetup, logTemperatures, Notebook, startRun } from "./index.ts";

let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-test-"));
});
afterAll(() => rmSync(scratch, { recursive: true }));

const document = (name = "strontium"): JsonObject =>
  parseJsonObject(readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8"), name);
const frame: Frame = { columns: 3, rows: 2, channels: 1, depth: 8, samples: Uint8Array.of(1, 2, 3, 4, 5, 6) };

describe("entries of a notebook", () => {
  it("come back as they were written, after closing too", () => {
    const folder = join(scratch, "first");
    const notebook = Notebook.create(folder);
    const setup = addSetup(notebook, { document: document(), by: "A. N." });
    const run = startRun(notebook, { title: "first light", setup: setup.uid, text: "arc just lit" });
    const log = logTemperatures(notebook, { run: run.uid, temperatures: { bottom: "600 degC", top: 700 } });
    const picture = addPicture(notebook, encodePng(frame), {
      role: "hot",
      name: "a b.png",
      run: String(run.id),
    });
    notebook.close();
    const again = Notebook.open(folder, { readOnly: true });
    expect(again.get(setup.uid)).toEqual(setup);
    expect(again.get(1)).toEqual(setup);
    expect(again.get(run.uid.slice(0, 8)).text).toBe("arc just lit");
    expect(again.get(log.id).body).toEqual({ temperatures: { bottom: 873.15, top: 700 } });
    expect(again.find({ run: run.uid }).entries.map(({ kind }) => kind)).toEqual([
      "picture",
      "temperatures",
      "run",
    ]);
    const kept = again.file(picture.files[0].sha256);
    expect(kept.media).toBe("image/png");
    expect(decodePng(kept.bytes, "kept")).toEqual(frame);
    expect(again.summary()).toEqual({ name: "first", entries: 4, pictures: 1, runs: 1 });
    again.close();
  });

  it("keep every version of a setup under its name", () => {
    const notebook = Notebook.create(join(scratch, "versions"));
    const first = addSetup(notebook, { document: document() });
    expect(addSetup(notebook, { document: document() }).uid).toBe(first.uid);
    const second = addSetup(notebook, { document: { ...document(), notes: "a wider slit" } });
    expect(second.body["version"]).toBe(2);
    expect(second.links).toContainEqual({ role: "previous", to: first.uid });
    expect(notebook.get(first.uid).body["document"]).toEqual(document());
    notebook.close();
  });

  it("are corrected by new entries, and nothing is changed or removed", () => {
    const folder = join(scratch, "kept");
    const notebook = Notebook.create(folder);
    const wrong = addRemark(notebook, { text: "gas: 20 mbar of helium" });
    const right = addRemark(notebook, { text: "gas: 20 mbar of argon", corrects: wrong.uid });
    expect(notebook.get(wrong.uid)).toEqual({ ...wrong, correctedBy: [right.uid] });
    addPicture(notebook, encodePng(frame), { role: "hot", name: "a.png" });
    notebook.close();
    const db = new Database(join(folder, "notebook.sqlite"));
    for (const table of ["entry", "blob", "file", "link"]) {
      expect(() => db.exec(`DELETE FROM ${table}`), table).toThrow(/add a correction instead/);
    }
    expect(() => db.exec("UPDATE entry SET title = 'x'")).toThrow(/add a correction instead/);
    db.close();
  });

  it("refuse what cannot be, in one sentence", () => {
    const folder = join(scratch, "refusals");
    const notebook = Notebook.create(folder);
    const setup = addSetup(notebook, { document: document() });
    const run = startRun(notebook, { title: "r", setup: setup.uid });
    const sentences: readonly (readonly [() => unknown, RegExp])[] = [
      [
        () => Notebook.create(folder),
        /expected a new or empty folder, received a folder that holds a notebook\.$/,
      ],
      [() => Notebook.open(scratch), /received a folder without a notebook\.$/],
      [() => notebook.get("ffffff"), /^entry: expected the number of an entry/],
      [() => notebook.get(99), /received 99\.$/],
      [
        () => startRun(notebook, { title: "x", setup: run.uid }),
        /^setup: expected a setup, received entry 2, a run\.$/,
      ],
      [() => logTemperatures(notebook, { run: run.uid, temperatures: { top: "3 mbar" } }), /^top: /],
      [
        () => logTemperatures(notebook, { run: run.uid, temperatures: { top: -5 } }),
        /^top: expected a temperature/,
      ],
      [() => logTemperatures(notebook, { run: run.uid, temperatures: {} }), /^temperatures: /],
      [() => addRemark(notebook, { text: " " }), /^text: expected words/],
      [() => addRemark(notebook, { text: "x", at: "yesterday" }), /^at: expected a date/],
      [() => addPicture(notebook, new Uint8Array(), { role: "hot", name: "x" }), /^picture: /],
      [() => notebook.find({ limit: 0 }), /^limit: /],
    ];
    for (const [act, sentence] of sentences) expect(act).toThrow(sentence);
    expect(notebook.summary().entries).toBe(2);
    notebook.close();
  });

  it("are found by kind, element, time, page by page", () => {
    const notebook = Notebook.create(join(scratch, "found"));
    addSetup(notebook, { document: document() });
    addSetup(notebook, { document: document("sodium") });
    for (let day = 1; day <= 9; day++)
      addRemark(notebook, { text: `day ${day}`, at: `2026-01-0${day}T23:30Z` });
    expect(notebook.find({ element: "Na" }).entries.map(({ kind }) => kind)).toEqual(["setup"]);
    expect(notebook.find({ from: "2026-01-03", to: "2026-01-05" }).entries.map(({ text }) => text)).toEqual([
      "day 5",
      "day 4",
      "day 3",
    ]);
    const page = notebook.find({ kinds: ["remark"], limit: 4 });
    expect(page.entries.map(({ text }) => text)).toEqual(["day 9", "day 8", "day 7", "day 6"]);
    const rest = notebook.find({ kinds: ["remark"], limit: 5, before: page.next! });
    expect(rest.entries.map(({ text }) => text)).toEqual(["day 5", "day 4", "day 3", "day 2", "day 1"]);
    expect(rest.next).toBeNull();
    notebook.close();
  });

  it("survive that a kept file is altered: it is not handed out", () => {
    const folder = join(scratch, "altered");
    const notebook = Notebook.create(folder);
    const { files } = addPicture(notebook, encodePng(frame), { role: "cold", name: "c.png" });
    const { name } = notebook.file(files[0].sha256);
    rmSync(join(folder, name));
    writeFileSync(join(folder, name), "other bytes");
    expect(() => notebook.file(files[0].sha256)).toThrow(/received bytes that are not those once kept\.$/);
    notebook.close();
  });
});
