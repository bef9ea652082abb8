import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import constants from "../../data/constants.json" with { type: "json" };
import lineTable from "../../data/lines.json" with { type: "json" };
import { OUTPUTS } from "./schemas.ts";
import { command as crossprism } from "./testing/command.ts";

const sodium = join(import.meta.dirname, "../../examples/sodium.json");
const cell = join(import.meta.dirname, "../../examples/cell-sodium.json");
// The package brings no types.
const parser: string = "jsdom";
const { JSDOM } = (await import(parser)) as {
  JSDOM: new (html: string) => { readonly window: { readonly document: Document } };
};
let folder: string;
let lab: string;

async function done(...args: string[]): Promise<string> {
  const { code, out, err } = await crossprism(...args);
  expect([code, err]).toEqual([0, ""]);
  return out;
}

// Two whole forecasts and a reading: half a minute, and more on a busy machine.
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-report-"));
  lab = join(folder, "lab");
  const here = ["--in", lab];
  for (const [name, more] of [
    ["hot", ["--set", "camera.seed=7"]],
    ["cold", ["--cold", "--set", "camera.seed=8"]],
  ] as const)
    await done("forecast", sodium, ...more, "-o", join(folder, name));
  await done("notebook", "new", lab);
  await done("notebook", "add", "setup", sodium, ...here);
  await done("notebook", "start", "last", "a <first> light", ...here);
  await done("notebook", "remark", "the bench & its lamp", "--run", "last", ...here);
  for (const role of ["hot", "cold"])
    await done(
      ...["notebook", "add", "picture", join(folder, role, "picture.png")],
      ...["--role", role, "--run", "last", ...here],
    );
  await done("notebook", "read", "4", "--cold", "5", "--setup", "last", ...here);
}, 240_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function pageAt(path: string): Document {
  return new JSDOM(readFileSync(path, "utf8")).window.document;
}

function numbersOf(page: Document): Map<string, { value: number; shown: string }> {
  return new Map(
    [...page.querySelectorAll("data")].map((each) => [
      each.getAttribute("data-name") ?? "",
      { value: Number(each.getAttribute("value")), shown: each.textContent },
    ]),
  );
}

/** What a reader would type into a calculator: "−3.272 × 10²³" with its power as <sup>. */
function asRead(shown: string): number {
  return Number(shown.replaceAll("−", "-").replaceAll(",", "").replace(" × 10", "e"));
}

function needsNothing(page: Document): void {
  expect(page.querySelectorAll("script, link, iframe, object, [onload], [onclick]").length).toBe(0);
  for (const image of page.querySelectorAll("img, image"))
    expect(image.getAttribute("src") ?? image.getAttribute("href")).toMatch(/^data:image\/png;base64,/);
}

describe("the report of a run", () => {
  it("holds the notebook's numbers, whole and rounded, and needs nothing else", async () => {
    const out = join(folder, "told");
    const answer: unknown = JSON.parse(
      await done("report", "run", "last", "--in", lab, "-o", out, "--no-pdf", "--json"),
    );
    expect(OUTPUTS["report-run"].safeParse(answer).error?.issues).toBeUndefined();
    const entry = JSON.parse(await done("notebook", "show", "6", "--in", lab, "--json")) as {
      uid: string;
      body: { result: Record<string, unknown> };
    };
    const page = pageAt(join(out, "report.html"));
    needsNothing(page);
    const numbers = numbersOf(page);
    const stored = entry.body.result as Record<string, Record<string, number>> & {
      budget: Record<string, number>[];
    };
    let compared = 0;
    const same = (name: string, value: number): void => {
      const found = numbers.get(`${entry.uid}.${name}`);
      expect(found?.value, name).toBe(value);
      expect(Math.abs(asRead(found?.shown ?? "") - value), name).toBeLessThanOrEqual(0.051 * Math.abs(value));
      compared += 1;
    };
    for (const name of ["columnGradient", "columnDensity", "lineSeparation", "fRatio", "tilt"]) {
      for (const part of ["value", "standardUncertainty", "combinedUncertainty"])
        same(`${name}.${part}`, stored[name][part]);
      for (const [i, line] of stored.budget.entries()) same(`budget.${i}.${name}`, line[name]);
    }
    expect(compared).toBe(15 + 5 * stored.budget.length);
    expect(page.body.textContent).toContain("a <first> light");
    expect(page.body.textContent).toContain("the bench & its lamp");
    expect(page.querySelectorAll(".pair img").length).toBe(2);
    expect(page.querySelectorAll("math").length).toBe(4);
    // The bench, and the measured index.
    expect(page.querySelectorAll("svg").length).toBe(2);
    const published = lineTable.entries.find(({ id }) => id === "NaI-589.16vac");
    expect(numbers.get(`${entry.uid}.published.NaI-589.16vac.f`)?.value).toBe(published?.f_absorption.value);
  });
});

describe("the handout", () => {
  it("asks for what a ruler and a formula give", async () => {
    const out = join(folder, "class");
    const answer: unknown = JSON.parse(
      await done("report", "handout", sodium, "-o", out, "--no-pdf", "--json"),
    );
    const { numbers } = OUTPUTS["report-handout"].parse(answer);
    const [sheet, key] = ["handout", "solutions"].map((name) => pageAt(join(out, `${name}.html`)));
    needsNothing(sheet);
    needsNothing(key);
    const picture = sheet.querySelector("svg image");
    expect(Number(picture?.getAttribute("width")) * numbers.pixelsPerMm).toBe(1280);
    const solved = numbersOf(key);
    // The picture as the forecast's own table has it; what follows is worked out here anew.
    const rows = readFileSync(join(folder, "hot", "curve.csv"), "utf8")
      .trim()
      .split("\n")
      .slice(1)
      .map((line) => line.split(",").map(Number));
    const radius = constants.entries.find(({ id }) => id === "r_e")?.value ?? 0;
    const [d2, d1] = [
      { wavelength: 589.158e-9, f: 0.6408 },
      { wavelength: 589.756e-9, f: 0.3201 },
    ];
    const lever = (line: number, at: number): number => 1 / (line ** -2 - at ** -2);
    expect(numbers.bends.length).toBeGreaterThan(0);
    for (const bend of numbers.bends) {
      const row = rows.reduce((best, each) =>
        Math.abs(each[0] - bend.wavelength) < Math.abs(best[0] - bend.wavelength) ? each : best,
      );
      const height = (400 - row[4]) / numbers.pixelsPerMm;
      expect(solved.get(`${bend.name}.height`)?.value).toBeCloseTo(Math.abs(height), 1);
      expect(bend.x).toBeCloseTo(row[3] / numbers.pixelsPerMm, 1);
      const angle = (height * numbers.pixelsPerMm * 2.4e-6) / numbers.perRadian;
      expect(Math.abs(angle / bend.angle - 1)).toBeLessThan(0.02);
      const sum = d2.f * lever(d2.wavelength, bend.wavelength) + d1.f * lever(d1.wavelength, bend.wavelength);
      const gradient = (2 * Math.PI * (row[1] - 1.1e-5)) / (radius * sum);
      expect(Math.abs((solved.get(`${bend.name}.gradient`)?.value ?? 0) / gradient - 1)).toBeLessThan(0.02);
      // A ruler's answer must lead to the vapour that the setup holds.
      expect(Math.abs(bend.gradient / numbers.columnGradient - 1)).toBeLessThan(0.05);
    }
    expect(Math.abs((numbers.zero?.ratio ?? 0) / (d2.f / d1.f) - 1)).toBeLessThan(0.01);
    // The class's sheet gives nothing away.
    expect([...numbersOf(sheet).keys()].filter((name) => /gradient|ratio|height|angle$/i.test(name))).toEqual(
      ["gasAngle"],
    );
  });
});

describe("report on the command line", () => {
  it("says what is wrong in one sentence and ends with 2", async () => {
    const out = join(folder, "none");
    const cases: readonly (readonly [readonly string[], RegExp])[] = [
      [["run", "99", "--in", lab, "-o", out], /^run: expected the number of an entry/],
      [["run", "1", "--in", lab, "-o", out], /^run: expected a run, received entry 1, a setup\.$/],
      [["run", "last", "--in", join(folder, "no"), "-o", out], /received a folder without a notebook\.$/],
      [["handout", cell, "-o", out], /^setup: expected a setup whose picture shows a line/],
      [["handout", join(folder, "no.json"), "-o", out], /received no such file\.$/],
      [["handout", sodium], /required option/],
    ];
    for (const [args, sentence] of cases) {
      const { code, out: printed, err } = await crossprism("report", ...args);
      expect([args[0], code, printed, err.trim().split("\n").length]).toEqual([args[0], 2, "", 1]);
      expect(err.trim()).toMatch(sentence);
    }
    expect(existsSync(out)).toBe(false);
  });

  it("refuses a browser that cannot run, and goes on without one that does not print", async () => {
    const browser = join(folder, "browser");
    const before = process.env["CHROMIUM_PATH"];
    const out = join(folder, "printed");
    try {
      process.env["CHROMIUM_PATH"] = browser;
      expect((await crossprism("report", "handout", sodium, "-o", out)).err).toMatch(
        /^CHROMIUM_PATH: expected the path of a Chromium-based browser/,
      );
      writeFileSync(browser, "#!/bin/sh\nexit 3\n", { mode: 0o755 });
      expect(await done("report", "handout", sodium, "-o", out)).toMatch(
        /^handout\.html, solutions\.html stand in .*\nNo browser printed a PDF .*any browser\.\n$/,
      );
    } finally {
      if (before === undefined) delete process.env["CHROMIUM_PATH"];
      else process.env["CHROMIUM_PATH"] = before;
    }
  });
});
