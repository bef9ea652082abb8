import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { OUTPUTS } from "./schemas.ts";
import { command } from "./testing/command.ts";

const strontium = join(import.meta.dirname, "../../examples/strontium.json");
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-plan-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("planning from the command line", () => {
  it("sweep prints a table, a document of its schema, and a CSV", async () => {
    const csv = join(folder, "table.csv");
    const over = ["sweep", strontium, "--over", "vessel.bottom=600..620 degC in 3", "--workers", "1"];
    const text = await command(...over, "-o", csv);
    expect(text.code).toBe(0);
    expect(text.err).toBe("");
    expect(text.out.trim().split("\n")).toHaveLength(4);
    const { code, out } = await command(...over, "--json");
    expect(code).toBe(0);
    const result = OUTPUTS.sweep.parse(JSON.parse(out));
    expect(result.rows.map((row) => row.at)).toEqual([["600 degC"], ["610 degC"], ["620 degC"]]);
    const lines = readFileSync(csv, "utf8").trim().split("\n");
    expect(lines).toHaveLength(4);
    const column = lines[0].split(",").indexOf("height_m");
    expect(Number(lines[1].split(",")[column])).toBeCloseTo(result.rows[0].values?.["height"] ?? 0, 15);
  });

  it("tolerance prints a budget and a document of its schema, the same with a kept file", async () => {
    const args = [
      "tolerance",
      strontium,
      "--error",
      "path.levelSlit=2 um",
      "--error",
      "knowledge.strength=2 %",
      "--draws",
      "10",
      "--workers",
      "1",
    ];
    const text = await command(...args);
    expect(text.code).toBe(0);
    expect(text.out).toMatch(/improve first/);
    const keep = join(folder, "tolerance.jsonl");
    const once = await command(...args, "--json", "--keep", keep);
    const result = OUTPUTS.tolerance.parse(JSON.parse(once.out));
    expect(result.outcomes["height"]?.improveFirst).toBe("knowledge.strength");
    expect((await command(...args, "--json", "--keep", keep)).out).toBe(once.out);
  });

  it("choose lists setups that can be opened", async () => {
    const args = [
      "choose",
      strontium,
      "--best",
      "tallest",
      "--free",
      "vessel.bottom=560..640 degC",
      "--at-most",
      "gapTimes=2",
      "--forecasts",
      "8",
    ];
    const { code, out } = await command(...args, "--json");
    expect(code).toBe(0);
    const result = OUTPUTS.choose.parse(JSON.parse(out));
    expect(result.choices[0]?.set["vessel.bottom"]).toMatch(/degC$/);
    const text = await command(...args);
    expect(text.out).toMatch(/crossprism check .* --set "vessel\.bottom=/);
  });

  it("runsheet writes a page, text, and a document of its schema", async () => {
    const page = join(folder, "sheet.html");
    const { code, out } = await command(
      "runsheet",
      strontium,
      "-o",
      page,
      "--set",
      "camera.columns=160",
      "--set",
      "camera.rows=100",
      "--set",
      "camera.pixel=29.6 um",
    );
    expect(code).toBe(0);
    expect(out).toMatch(/must be approved under local rules/);
    expect(readFileSync(page, "utf8")).toMatch(/<!doctype html>/);
    const json = await command(
      "runsheet",
      strontium,
      "--json",
      "--set",
      "camera.columns=160",
      "--set",
      "camera.rows=100",
      "--set",
      "camera.pixel=29.6 um",
    );
    OUTPUTS.runsheet.parse(JSON.parse(json.out));
  });

  it("check begins with a verdict in one sentence", async () => {
    const { out } = await command(
      "check",
      strontium,
      "--json",
      "--set",
      "camera.columns=160",
      "--set",
      "camera.rows=100",
      "--set",
      "camera.pixel=29.6 um",
    );
    expect(OUTPUTS.check.parse(JSON.parse(out)).verdict.text).toMatch(/^At the gap's edge .*\.$/);
  });

  const cases: [string, string[], RegExp][] = [
    ["a sweep over nothing", ["sweep", strontium], /--over/],
    [
      "an unknown outcome",
      ["sweep", strontium, "--over", "vessel.bottom=600..620 degC", "--show", "beauty"],
      /one of height/,
    ],
    [
      "an unknown filling",
      ["sweep", strontium, "--over", "vessel.bottom=600..620 degC", "--by", "chance"],
      /grid, sobol, r2/,
    ],
    ["half a draw", ["tolerance", strontium, "--draws", "0.5"], /--draws/],
    ["no workers", ["tolerance", strontium, "--draws", "1", "--workers", "0"], /--workers/],
    [
      "half a screen",
      ["choose", strontium, "--free", "vessel.bottom=560..640 degC", "--screen", "2 m"],
      /--seen-from/,
    ],
    ["a strange ending", ["runsheet", strontium, "-o", "sheet.doc"], /\.html or \.txt/],
  ];
  it.each(cases)("refuses %s in one sentence", async (_, args, said) => {
    const { code, out, err } = await command(...args);
    expect(code).toBe(2);
    expect(err).toMatch(said);
    expect(err.trim().split("\n")).toHaveLength(1);
    expect(out).toBe("");
  });
});
