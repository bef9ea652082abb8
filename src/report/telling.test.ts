import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  addPicture,
  addRemark,
  addSetup,
  logTemperatures,
  Notebook,
  startRun,
  takeReading,
} from "../notebook/index.ts";
import { decodePng, encodePng, type Frame } from "../picture/index.ts";
import type { Reading } from "../reading/index.ts";
import {
  curveStage,
  forecast,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  type Setup,
  vapourStage,
} from "../setup/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import { ENGLISH, numbersFor } from "../words/index.ts";
import { leftOver, pseudoLanguage } from "../words/testing/pseudo.ts";
import {
  benchFigure,
  handoutOf,
  runReportHtml,
  type RunReportInput,
  type Telling,
  tellingIn,
} from "./index.ts";

// The package brings no types.
const parser: string = "jsdom";
const { JSDOM } = (await import(parser)) as {
  JSDOM: new (html: string) => { readonly window: { readonly document: Document } };
};
const example = (name: string) =>
  parseJsonObject(readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8"), name);
/** Signs of units, quantities and lines, which every language writes alike. */
const SIGNS = ["nm", "mm", "mrad", "rad", "kPa", "CSV", "SHA", "UTC", "crossprism"];

let folder: string;
let input: RunReportInput;
let points: Reading["derived"]["phase"];

/** A run of a small bench with its reading. */
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "telling-"));
  const document = overrideSetup(example("potassium-grating"), ["camera.columns=640", "camera.rows=360"]);
  const setup = parseSetup(document);
  const notebook = Notebook.create(join(folder, "lab"), { now: () => new Date("2026-03-01T14:05:00Z") });
  const setupEntry = addSetup(notebook, { document, by: "Ω Ω" });
  const run = startRun(notebook, { title: "first light", setup: setupEntry.uid, by: "Ω Ω" });
  logTemperatures(notebook, { run: run.uid, temperatures: { bottom: "250 degC" } });
  addRemark(notebook, { text: "flicker", run: run.uid });
  const keep = (frame: Frame, role: "hot" | "cold") =>
    addPicture(notebook, encodePng(frame), { role, name: `${role}.png`, run: run.uid });
  const predicted = forecast(setup).frame;
  const hot = keep(predicted, "hot");
  const cold = keep(forecast(setup, { cold: true }).frame, "cold");
  const entry = await takeReading(
    notebook,
    { setup: setupEntry.uid, hot: hot.uid, cold: cold.uid, run: run.uid },
    (bytes, name) => decodePng(bytes, name),
  );
  points = (entry.body["result"] as unknown as Reading).derived.phase;
  const entries = notebook.find({ run: run.uid }).entries.toReversed();
  notebook.close();
  const readings = [{ entry, hot: predicted }];
  input = { run, setupEntry, document, setup, entries, readings, predicted, bench: bench(setup) };
}, 300_000);
afterAll(() => rmSync(folder, { recursive: true }));

/** The drawing of the bench in the strange language. */
function bench(setup: Setup): string {
  const { path, vessel, camera } = setup;
  return benchFigure({
    title: "",
    path,
    vessel,
    map: curveStage(setup, vapourStage(setup, { grid: COARSE_GRID })).map,
    sensor: { height: camera.rows * camera.pixel, width: camera.columns * camera.pixel },
    colours: [{ wavelength: 767e-9, bend: 1e-3 }],
    scale: 20,
    words: strange.language.bench,
    retell: strange.retell,
  });
}

const told = (telling: Telling): Document => new JSDOM(runReportHtml(input, telling)).window.document;
const english = tellingIn(ENGLISH, numbersFor("en-GB"));
const strange = tellingIn(pseudoLanguage(ENGLISH), numbersFor("de-DE"));

/** All that is read or read aloud of a page, but for citations, what somebody wrote, and formulas. */
function readOf(page: Document): string[] {
  // The heading holds the title that the setup or the run was given.
  for (const each of page.querySelectorAll('cite, [lang=""], math, style, details pre, code, h1'))
    each.remove();
  const aloud = [...page.querySelectorAll("[alt], [aria-label], [title]")].flatMap((each) =>
    ["alt", "aria-label", "title"].map((name) => each.getAttribute(name) ?? ""),
  );
  const texts: string[] = [];
  const walker = page.createTreeWalker(page.body, 4);
  while (walker.nextNode() !== null) texts.push(walker.currentNode.textContent ?? "");
  return [...texts, ...aloud];
}

describe("the report of a run", () => {
  it("leaves no English outside the language file", () => {
    const page = told(strange);
    expect(page.documentElement.lang).toBe("qps");
    expect(page.querySelectorAll("cite").length).toBeGreaterThan(8);
    expect(leftOver(readOf(page), SIGNS)).toEqual([]);
  });

  it("opens a reading kept before the published ratio had its uncertainty, and leaves that column out", () => {
    const name = '[data-name$=".publishedRatio.standardUncertainty"]';
    const [kept] = input.readings;
    const result = kept.entry.body["result"] as unknown as Reading;
    const { standardUncertainty: _none, ...before } = result.derived.publishedRatio!;
    const derived = { ...result.derived, publishedRatio: before };
    const body = { ...kept.entry.body, result: { ...result, derived } } as unknown as typeof kept.entry.body;
    const old = { ...input, readings: [{ ...kept, entry: { ...kept.entry, body } }] };
    const page = new JSDOM(runReportHtml(old, english)).window.document;
    const now = told(english);
    expect(now.querySelectorAll(name)).toHaveLength(1);
    expect(page.querySelectorAll(name)).toHaveLength(0);
    const heads = (of: Document): number =>
      of.querySelector('[data-name$=".publishedRatio.published"]')?.closest("table")?.querySelectorAll("th")
        .length ?? 0;
    expect(heads(page)).toBe(heads(now) - 1);
    expect(page.body.textContent).not.toMatch(/NaN|undefined/);
  });

  it("marks as English what a language lacks, and tells the rest", () => {
    const { sentences, ...rest } = pseudoLanguage(ENGLISH);
    const lacking = tellingIn(
      { ...rest, sentences: { ...sentences, noise: undefined } },
      numbersFor("de-DE"),
    );
    const marked = [...told(lacking).querySelectorAll('[lang="en"]:not(cite)')];
    expect(marked.map((each) => each.textContent)).toEqual(["noise of the picture"]);
  });

  it("keeps numbers and times whole, whichever way they are shown", () => {
    const [here, there] = [told(english), told(strange)];
    const whole = (page: Document): readonly (string | null)[] =>
      [...page.querySelectorAll("data, time")].map(
        (each) => each.getAttribute("value") ?? each.getAttribute("datetime"),
      );
    expect(whole(here).length).toBeGreaterThan(60);
    expect(whole(there)).toEqual(whole(here));
    const ratio = (page: Document): string =>
      page.querySelector('[data-name$=".fRatio.value"]')?.textContent ?? "";
    expect(ratio(here)).toMatch(/^\d\.\d{3}$/);
    expect(ratio(there)).toBe(ratio(here).replace(".", ","));
    expect(there.querySelector("time")?.textContent).toBe("01.03.2026, 14:05 UTC");
    expect(here.querySelector("time")?.textContent).toBe("1 Mar 2026, 14:05 UTC");
  });

  it("draws the measured index: each traced point where its numbers say", () => {
    const figure = [...told(english).querySelectorAll("svg")].find((each) =>
      (each.getAttribute("aria-label") ?? "").startsWith("Measured index"),
    );
    const drawn = [...(figure?.querySelectorAll("g circle") ?? [])].map((each) => [
      Number(each.getAttribute("cx")),
      Number(each.getAttribute("cy")),
    ]);
    const every = Math.ceil(points.length / 300);
    const shown = points.filter((_, i) => i % every === 0);
    expect(drawn.length).toBe(shown.length);
    expect(drawn.length).toBeGreaterThan(50);
    // One straight scale each way takes every point's numbers to its place.
    const straight = (from: readonly number[], to: readonly number[], way: number): void => {
      const [low, high] = [from.indexOf(Math.min(...from)), from.indexOf(Math.max(...from))];
      const slope = (to[high] - to[low]) / (from[high] - from[low]);
      expect(Math.sign(slope)).toBe(way);
      const off = from.map((value, i) => Math.abs(to[low] + slope * (value - from[low]) - to[i]));
      expect(Math.max(...off)).toBeLessThan(0.2);
    };
    straight(
      shown.map(({ wavelength }) => wavelength),
      drawn.map(([x]) => x),
      1,
    );
    straight(
      shown.map(({ refractivity }) => refractivity),
      drawn.map(([, y]) => y),
      -1,
    );
  });

  it("names a cell and a flame for what they are", () => {
    for (const [name, word] of [
      ["cell-sodium", "vapour cell"],
      ["flame-sodium", "flame"],
    ] as const) {
      const setup = parseSetup(example(name));
      const page = new JSDOM(runReportHtml({ ...input, setup, readings: [] }, english)).window.document;
      const elements = [...page.querySelectorAll("table td:first-child")].map((each) => each.textContent);
      expect(elements).toContain(word);
      expect(elements).not.toContain("vapour tube");
    }
  });
});

describe("the handout", () => {
  it("leaves no English outside the language file, in the sheet and in the solutions", () => {
    const made = handoutOf(forecast(parseSetup(example("sodium"))), strange);
    for (const html of [made.handout, made.solutions]) {
      const page = new JSDOM(html).window.document;
      expect(leftOver(readOf(page), SIGNS)).toEqual([]);
      expect(page.body.textContent).toMatch(/58\d,\d/);
    }
  });
});
