import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseAxis, type SweepJob, sweepJob, unitRunner } from "../plan/index.ts";
import { Refusal } from "../quantity/index.ts";
import { parseJsonObject } from "../setup/index.ts";
import { isStopped, runUnits } from "./units.ts";

const document = parseJsonObject(
  readFileSync(join(import.meta.dirname, "../../examples/strontium.json"), "utf8"),
  "strontium.json",
);
const job: SweepJob = sweepJob(
  document,
  [parseAxis("vessel.bottom=590..620 degC in 4"), parseAxis("path.plumbSlit=10..20 um in 3")],
  "grid",
  0,
);
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "crossprism-units-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("many units of work", () => {
  it("give the same rows with any number of workers, and alone", async () => {
    const run = unitRunner(job);
    const alone = Array.from({ length: 12 }, (_, i) => run(11 - i)).reverse();
    expect(await runUnits(job, { workers: 1 })).toEqual(alone);
    expect(await runUnits(job, { workers: 2 })).toEqual(alone);
  });

  it("after a break lose at most one unit a worker, and go on to the same answer", async () => {
    const keep = join(folder, "kept.jsonl");
    const whole = await runUnits(job, { workers: 1 });
    const stop = new AbortController();
    let finished = 0;
    const broken = runUnits(job, {
      workers: 1,
      keep,
      signal: stop.signal,
      progress: (done) => {
        finished = done;
        if (done === 5) stop.abort();
      },
    });
    await expect(broken).rejects.toSatisfy(isStopped);
    expect(finished).toBe(5);
    expect(readFileSync(keep, "utf8").trim().split("\n")).toHaveLength(6);
    // A break in the middle of a write leaves a torn line.
    const text = readFileSync(keep, "utf8");
    truncateSync(keep, text.length - 7);
    let done = 0;
    const rows = await runUnits(job, { workers: 1, keep, progress: () => done++ });
    expect(rows).toEqual(whole);
    expect(done).toBe(12 - 4);
    // Taken up once more there is nothing left to do.
    let again = 0;
    expect(await runUnits(job, { workers: 2, keep, progress: () => again++ })).toEqual(whole);
    expect(again).toBe(0);
  });

  it("stops workers on request, and loses nothing that they had begun", async () => {
    const keep = join(folder, "two.jsonl");
    const stop = new AbortController();
    let finished = 0;
    const broken = runUnits(job, {
      workers: 2,
      keep,
      signal: stop.signal,
      progress: (done) => {
        finished = done;
        if (done === 3) stop.abort();
      },
    });
    await expect(broken).rejects.toSatisfy(isStopped);
    // Two workers with two units in hand each, of which the third to finish asked for the break.
    expect(finished).toBeLessThanOrEqual(3 + 3);
    expect(readFileSync(keep, "utf8").trim().split("\n")).toHaveLength(1 + finished);
  });

  it("killed at any moment, loses at most the unit that each worker was at", async () => {
    const keep = join(folder, "killed.jsonl");
    const whole = await runUnits(job, { workers: 1 });
    const script = join(import.meta.dirname, "testing/run-units.ts");
    const args = ["--import", "tsx", script, JSON.stringify(job), keep];
    // What was told of is on disk; beyond it a worker has at most one unit that is neither told of nor kept.
    const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "inherit"] });
    let told = 0;
    child.stdout.on("data", (text: Buffer) => {
      told = Number(text.toString().trim().split("\n").at(-1));
      if (told >= 4) child.kill("SIGKILL");
    });
    await once(child, "exit");
    const lines = readFileSync(keep, "utf8").split("\n").slice(1, -1);
    expect(lines.length).toBeGreaterThanOrEqual(told);
    for (const line of lines) expect(() => JSON.parse(line) as unknown).not.toThrow();

    expect(await runUnits(job, { workers: 1, keep })).toEqual(whole);
  }, 180_000);

  it("refuses units of another job, and a file that is none", async () => {
    const keep = join(folder, "other.jsonl");
    await runUnits({ ...job, points: job.points.slice(0, 1) }, { workers: 1, keep });
    await expect(runUnits(job, { workers: 1, keep })).rejects.toThrow(/another job/);
    writeFileSync(keep, `${readFileSync(keep, "utf8").split("\n")[0]}\n{"unit":77}\n`);
    await expect(runUnits({ ...job, points: job.points.slice(0, 1) }, { workers: 1, keep })).rejects.toThrow(
      Refusal,
    );
    await expect(runUnits(job, { workers: 1, keep: join(folder, "no", "such", "folder") })).rejects.toThrow(
      /cannot be written/,
    );
  });
});
