import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePng, encodePng } from "../picture/index.ts";
import { forecast, type JsonObject, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import {
  addForecast,
  addPicture,
  addPlan,
  addRemark,
  addReport,
  addSetup,
  type Entry,
  exportNotebook,
  importNotebook,
  logTemperatures,
  Notebook,
  startRun,
  takeReading,
  type Verification,
  verifyNotebook,
} from "./index.ts";
import { ZipReader } from "./zip-read.ts";
import { ZipWriter } from "./zip-write.ts";

const decode = (bytes: Uint8Array, name: string) => decodePng(bytes, name);
let scratch: string;
let folder: string;
let run: Entry;
let reading: Entry;

/** A small bench, so that its picture is quickly drawn and read. */
function smallBench(): JsonObject {
  const path = new URL("../../examples/potassium-grating.json", import.meta.url);
  const document = parseJsonObject(readFileSync(path, "utf8"), "potassium-grating");
  return overrideSetup(document, ["camera.columns=640", "camera.rows=360"]);
}

beforeAll(async () => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-crate-"));
  folder = join(scratch, "original");
  const notebook = Notebook.create(folder);
  const document = smallBench();
  const setup = addSetup(notebook, { document, by: "Zoë Invented" });
  run = startRun(notebook, { title: "first run", setup: setup.uid, by: "Zoë Invented" });
  logTemperatures(notebook, { run: run.uid, temperatures: { bottom: "250 degC", top: "180 degC" } });
  const wrong = addRemark(notebook, { text: 'a <b>bold</b> "claim", 50 %', run: run.uid });
  addRemark(notebook, { text: "withdrawn", run: run.uid, corrects: wrong.uid });
  const add = (cold: boolean): Entry =>
    addPicture(notebook, encodePng(forecast(parseSetup(document), { cold }).frame), {
      role: cold ? "cold" : "hot",
      name: cold ? "cold frame.png" : "hot frame.png",
      run: run.uid,
    });
  const [hot, cold] = [add(false), add(true)];
  reading = await takeReading(notebook, { setup: setup.uid, hot: hot.uid, cold: cold.uid }, decode);
  addForecast(notebook, { setup: setup.uid });
  addPlan(notebook, { setup: setup.uid, run: run.uid });
  addReport(notebook, {
    title: "report",
    run: run.uid,
    readings: [reading.uid],
    files: [{ name: "report.html", bytes: Buffer.from("<!doctype html><title>r</title>") }],
  });
  addRemark(notebook, { text: "of no run" });
  notebook.close();
}, 600_000);
afterAll(() => rmSync(scratch, { recursive: true }));

async function verified(place: string): Promise<Verification> {
  const notebook = Notebook.open(place, { readOnly: true });
  const answer = await verifyNotebook(notebook, decode);
  notebook.close();
  return answer;
}

describe("a notebook proves itself", () => {
  it("recomputes every stored number to the last bit, elsewhere as here", async () => {
    const here = await verified(folder);
    expect(here.damage).toEqual([]);
    expect(here.verified.map(({ kind, state }) => `${kind} ${state}`).sort()).toEqual([
      "forecast same",
      "plan same",
      "reading same",
      "setup same",
    ]);
    expect(here.compared).toBeGreaterThan(200);
    expect(here.good).toBe(true);

    const source = Notebook.open(folder, { readOnly: true });
    exportNotebook(source, join(scratch, "whole.zip"));
    source.close();
    const other = Notebook.create(join(scratch, "elsewhere"));
    addRemark(other, { text: "was here before" });
    expect(importNotebook(other, join(scratch, "whole.zip"))).toEqual({ entries: 12, added: 12 });
    expect(importNotebook(other, join(scratch, "whole.zip"))).toEqual({ entries: 12, added: 0 });
    other.close();
    const there = await verified(join(scratch, "elsewhere"));
    expect({ ...there, entries: there.entries - 1 }).toEqual(here);
  }, 600_000);

  it("says where a number is not what the pictures give", async () => {
    const place = join(scratch, "wrong");
    cpSync(folder, place, { recursive: true });
    const notebook = Notebook.open(place);
    const { body, links } = notebook.get(reading.uid);
    const result = body["result"] as JsonObject;
    const gradient = result["columnGradient"] as { readonly value: number };
    const off = { ...result, columnGradient: { ...gradient, value: gradient.value * 1.01 } };
    const near = { ...result, columnGradient: { ...gradient, value: gradient.value * (1 + 1e-12) } };
    const draft = { kind: "reading" as const, title: "x", links };
    const wrong = notebook.add({ ...draft, body: { ...body, result: off } });
    const close = notebook.add({ ...draft, body: { ...body, result: near } });
    const bare = notebook.add({ ...draft, links: [], body });
    const answer = await verifyNotebook(notebook, decode);
    notebook.close();
    const of = (uid: string) => answer.verified.find((each) => each.uid === uid);
    expect(of(wrong.uid)).toMatchObject({
      state: "different",
      differences: [
        { path: "result.columnGradient.value", stored: gradient.value * 1.01, recomputed: gradient.value },
      ],
    });
    expect(of(wrong.uid)?.differences[0].relative).toBeCloseTo(0.0099, 4);
    expect(of(close.uid)?.state).toBe("close");
    expect(of(bare.uid)).toMatchObject({
      state: "impossible",
      remark: expect.stringContaining("without its hot") as unknown,
    });
    expect([answer.good, answer.damage]).toEqual([false, []]);
  }, 600_000);
});

describe("an exported run", () => {
  it("holds what belongs to it and what that points to, and no more", () => {
    const source = Notebook.open(folder, { readOnly: true });
    const path = join(scratch, "run.zip");
    expect(exportNotebook(source, path, { run: run.uid })).toMatchObject({ entries: 10 });
    source.close();
    const other = Notebook.create(join(scratch, "one-run"));
    importNotebook(other, path);
    expect(other.find({ words: "withdrawn" }).entries).toHaveLength(1);
    expect(other.find({ words: "of no run" }).entries).toHaveLength(0);
    expect(other.get(reading.uid).body).toEqual(reading.body);
    other.close();
  });

  it("is refused where anything in it was altered, and then leaves no entry behind", () => {
    const source = Notebook.open(folder, { readOnly: true });
    const path = join(scratch, "good.zip");
    exportNotebook(source, path);
    source.close();
    const target = Notebook.create(join(scratch, "target"));
    const forged = (name: string, change: (member: string, bytes: Buffer) => Buffer | undefined): string => {
      const zip = new ZipReader(path);
      const out = join(scratch, name);
      const writer = new ZipWriter(out);
      for (const member of zip.names()) {
        const bytes = change(member, zip.read(member));
        if (bytes !== undefined) writer.add(member, bytes);
      }
      zip.close();
      writer.close();
      return out;
    };
    const inEntries = (from: string, to: string) => (member: string, bytes: Buffer) =>
      member === "entries.ndjson" ? Buffer.from(bytes.toString("utf8").replace(from, to)) : bytes;
    const cases: readonly (readonly [string, RegExp])[] = [
      [forged("a.zip", inEntries("withdrawn", "confirmed")), /line \d+ is not as it was written/],
      [forged("b.zip", inEntries('"kind":"remark"', '"kind":"dream"')), /line \d+ is no entry/],
      [forged("c.zip", inEntries("{", "")), /line 1 is no JSON/],
      [
        forged("d.zip", (member, bytes) =>
          member.endsWith(".png") ? Buffer.concat([bytes, Buffer.of(0)]) : bytes,
        ),
        /is not as it was kept/,
      ],
      [
        forged("e.zip", (member, bytes) => (member.endsWith(".png") ? undefined : bytes)),
        /an archive without files\//,
      ],
      [
        forged("f.zip", (member, bytes) => (member.startsWith("ro-crate-meta") ? undefined : bytes)),
        /an archive without ro-crate-metadata\.json/,
      ],
      [
        forged("g.zip", (member, bytes) =>
          member.startsWith("ro-crate-meta") ? Buffer.from('{"@graph": []}') : bytes,
        ),
        /that is no RO-Crate/,
      ],
    ];
    for (const [crate, sentence] of cases)
      expect(() => importNotebook(target, crate), crate).toThrow(sentence);
    writeFileSync(join(scratch, "no.zip"), "no archive");
    expect(() => importNotebook(target, join(scratch, "no.zip"))).toThrow(/a file that is no ZIP archive/);
    expect(target.summary().entries).toBe(0);
    expect(existsSync(join(target.folder, "journal.ndjson"))).toBe(false);
    target.close();
  });
});
