import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { encodePng } from "../picture/index.ts";
import { OUTPUTS } from "./schemas.ts";
import { command } from "./testing/command.ts";

const strontium = join(import.meta.dirname, "../../examples/strontium.json");
let folder: string;
let place: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-notebook-cli-"));
  place = join(folder, "lab");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const notebook = (...args: string[]) => command("notebook", ...args);

async function done(...args: string[]): Promise<string> {
  const { code, out, err } = await notebook(...args);
  expect([code, err]).toEqual([0, ""]);
  return out;
}

describe("notebook on the command line", () => {
  it("goes through a day at the bench", async () => {
    await done("new", place);
    const here = ["--in", place];
    expect(await done("add", "setup", strontium, "--by", "Invented", ...here)).toBe(
      "entry 1: setup, One line, cleanly, version 1\n",
    );
    await done("start", "last", "first light", ...here);
    expect(await done("log", "bottom=600 degC", "top=480 degC", "--at", "2026-03-01T10:00Z", ...here)).toBe(
      "entry 3: temperatures, bottom 600.0 °C, top 480.0 °C\n",
    );
    const samples = Uint8Array.of(1, 2, 3, 4);
    const picture = join(folder, "frame.png");
    writeFileSync(picture, encodePng({ columns: 2, rows: 2, channels: 1, depth: 8, samples }));
    await done("add", "picture", picture, "--exposure", "20 ms", "--run", "last", ...here);
    await done("remark", "the line leans", "--run", "last", ...here);
    await done("remark", "it does not lean", "--run", "last", "--corrects", "5", ...here);
    expect(await done("list", "--kind", "remark", ...here)).toMatch(/the line leans \(corrected\)/);
    expect(await done("find", "lean*", "--from", "2026-01-01", ...here)).toMatch(/^6 .*\n5 .*\n$/s);
    expect(await done("find", "--number", "temperature.bottom=590 degC..610 degC", ...here)).toMatch(/^3 /);
    expect(await done("find", "--number", "exposure=..19 ms", ...here)).toBe("no entry\n");
    await done("show", "4", "-o", join(folder, "out"), ...here);
    expect(readFileSync(join(folder, "out", "frame.png")).equals(readFileSync(picture))).toBe(true);
    const crate = join(folder, "lab.zip");
    await done("export", crate, "--license", "https://creativecommons.org/licenses/by/4.0/", ...here);
    await done("new", join(folder, "other"));
    expect(await done("import", crate, "--in", join(folder, "other"))).toBe("6 of 6 entries are new\n");
    expect(await done("mend", ...here)).toBe("Nothing to mend: 6 entries, all whole.\n");
  });

  it("answers as its schemas say, and proves the same here and where it was imported", async () => {
    const json = async (output: keyof typeof OUTPUTS, ...args: string[]): Promise<unknown> => {
      const value: unknown = JSON.parse(await done(...args, "--json"));
      expect(OUTPUTS[output].safeParse(value).error?.issues).toBeUndefined();
      return value;
    };
    const here = ["--in", place];
    await json("notebook-entry", "show", "1", ...here);
    await json("notebook-list", "find", "line", ...here);
    await json("notebook-mend", "mend", ...here);
    await json("notebook-export", "export", join(folder, "again.zip"), "--run", "last", ...here);
    await json("notebook-import", "import", join(folder, "again.zip"), ...here);
    const proof = await json("notebook-verify", "verify", ...here);
    expect(await json("notebook-verify", "verify", "--in", join(folder, "other"))).toEqual(proof);
  });

  it("says what is wrong in one sentence and ends with 2", async () => {
    const here = ["--in", place];
    const loose = ["--in", join(folder, "loose")];
    await done("new", join(folder, "loose"));
    await done("add", "picture", join(folder, "frame.png"), ...loose);
    const cases: readonly (readonly [readonly string[], RegExp])[] = [
      [["list", "--in", join(folder, "nowhere")], /received a folder without a notebook\.$/],
      [["new", place], /received a folder that holds a notebook\.$/],
      [["show", "99", ...here], /^entry: expected the number of an entry/],
      [["log", "bottom", ...here], /^temperatures: expected place and temperature/],
      [["log", "bottom=3 mbar", ...here], /^bottom: /],
      [["add", "picture", strontium, "--role", "warm", ...here], /^role: expected one of hot/],
      [["add", "picture", join(folder, "none.png"), ...here], /received no such file\.$/],
      [["find", "--number", "fRatio", ...here], /^--number: expected a name and a range/],
      [["find", "--from", "monday", ...here], /^from: expected a date/],
      [["list", "--limit", "many", ...here], /^limit: expected a whole number/],
      [["read", "last", "--setup", "last", ...here], /^hot: /],
      [["read", "last", ...here], /^hot: /],
      [["read", "last", ...loose], /^setup: .* received none, and a picture without a run\.$/],
      [["import", strontium, ...here], /received a file that is no ZIP archive\.$/],
      [["lst"], /unknown command 'lst' \(Did you mean list\?\)$/],
      [["add", "picture"], /missing required argument 'file'\.$/],
    ];
    for (const [args, sentence] of cases) {
      const { code, out, err } = await notebook(...args);
      expect([args[0], code, out, err.trim().split("\n").length]).toEqual([args[0], 2, "", 1]);
      expect(err.trim()).toMatch(sentence);
    }
  });

  it("ends with 2 and says so where the proof fails", async () => {
    const { uid } = JSON.parse(await done("show", "4", "--in", place, "--json")) as { uid: string };
    rmSync(join(place, "files"), { recursive: true });
    const { code, out, err } = await notebook("verify", "--in", place);
    expect(code).toBe(2);
    expect(out).toContain(`of entry ${uid} is missing`);
    expect(err).toMatch(/not everything in this notebook is as it was written or can be computed again\.\n$/);
    expect((await notebook("mend", "--in", place)).code).toBe(2);
  });
});
