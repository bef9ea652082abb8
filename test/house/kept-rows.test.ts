/** Long campaigns go on where they were broken off. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { keepRow, keptRows, mendRows } from "../../bench/lib/kept-rows.ts";

let folder = "";
let file = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "rows-"));
  file = join(folder, "rows.jsonl");
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

describe("kept rows", () => {
  it("are none without a file, and what was kept with one", () => {
    mendRows(file);
    expect(keptRows(file)).toEqual([]);
    keepRow(file, { a: 1 });
    keepRow(file, { a: Number.NaN, µ: "χ²" });
    expect(keptRows(file)).toEqual([{ a: 1 }, { a: null, µ: "χ²" }]);
  });

  it("lose half a line of a run that was killed, and go on after the last whole one", () => {
    writeFileSync(file, '{"a":"χ²"}\n{"a":"χ');
    expect(keptRows(file)).toEqual([{ a: "χ²" }]);
    mendRows(file);
    keepRow(file, { a: 3 });
    expect(readFileSync(file, "utf8")).toBe('{"a":"χ²"}\n{"a":3}\n');
  });
});

describe("the campaign of diagnoses", () => {
  const campaign = fileURLToPath(new URL("../../bench/campaign/diagnose.ts", import.meta.url));
  const verdict = (by: string, seed: number, right: boolean) => ({
    truth: "as-predicted",
    degree: "good",
    by,
    seed,
    named: right ? "as-predicted" : "smoke",
    right,
    evidence: "invented for this test",
  });

  it("draws no day again whose verdict it has, and reports those", () => {
    // No fault, two good days of the forecast and one of the outside renderer: all there, and half a line more.
    keepRow(file, verdict("outside", 1_950_000, true));
    keepRow(file, verdict("forecast", 1_900_000, true));
    keepRow(file, verdict("forecast", 1_900_001, false));
    const whole = readFileSync(file, "utf8");
    writeFileSync(file, `${whole}{"truth":"as-p`);
    const said = execFileSync(
      process.execPath,
      ["--import", "tsx", campaign, "0", "2", "1", "1", "--rows", file],
      { encoding: "utf8" },
    );
    expect(readFileSync(file, "utf8")).toBe(whole);
    expect(said).toContain('"as predicted" for 67 % of 3 (forecast 50 % of 2, outside 100 % of 1)');
    expect(said).toContain("seed 1900001: smoke (invented for this test)");
  });
}, 60_000);
