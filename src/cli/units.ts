/** Many units of work over several cores, with progress, kept on disk as they finish, and taken up again after a break. */

import {
  appendFileSync,
  closeSync,
  existsSync,
  openSync,
  readFileSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { availableParallelism } from "node:os";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";
import type { Row } from "../plan/index.ts";
import { Refusal } from "../quantity/index.ts";
import { fingerprint, PROGRAM_VERSION } from "../setup/index.ts";
import { type AnyJob, countOf, runnerOf } from "./any-job.ts";
import { keptLine } from "./kept-line.ts";
import type { Done, WorkerJob } from "./work.ts";

export interface UnitOptions {
  /** worker threads; 1 works in this thread; default: the cores at hand */
  readonly workers?: number;
  /** JSON-lines file of finished units; units that stand in it are not done again */
  readonly keep?: string;
  /** called after each unit */
  readonly progress?: (done: number, total: number) => void;
  /** stops the work between units; what is finished stays in `keep` */
  readonly signal?: AbortSignal;
}

/** Every row of a job, in order. The rows do not depend on the number of workers. */
export async function runUnits(job: AnyJob, options: UnitOptions = {}): Promise<Row[]> {
  const total = countOf(job);
  const rows = new Array<Row | undefined>(total);
  const { keep } = options;
  if (keep !== undefined) openKept(keep, job, rows);
  let done = rows.filter((row) => row !== undefined).length;
  const finish = (index: number, row: Row): void => {
    rows[index] = row;
    done++;
    options.progress?.(done, total);
  };
  const open = Array.from(rows.keys()).filter((index) => rows[index] === undefined);
  const workers = Math.min(options.workers ?? availableParallelism(), open.length);
  if (workers <= 1)
    await here({ job, ...(keep === undefined ? {} : { keep }) }, open, finish, options.signal);
  else
    await inWorkers({ job, ...(keep === undefined ? {} : { keep }) }, open, workers, finish, options.signal);
  return rows as Row[];
}

class Stopped extends Error {}

export const isStopped = (error: unknown): boolean => error instanceof Stopped;

async function here(
  { job, keep }: WorkerJob,
  open: readonly number[],
  finish: (index: number, row: Row) => void,
  signal?: AbortSignal,
): Promise<void> {
  const run = runnerOf(job);
  let last = performance.now();
  for (const index of open) {
    const row = await run(index);
    // One write of one whole line: a break leaves at most a torn last line, which is dropped on taking up again.
    if (keep !== undefined) appendFileSync(keep, keptLine(index, row));
    finish(index, row);
    // Let a signal be heard now and then.
    if (performance.now() - last > 50) {
      await new Promise((resolve) => setImmediate(resolve));
      last = performance.now();
    }
    if (signal?.aborted === true) throw new Stopped("stopped");
  }
}

/** Beside this file: work.js in what is built; work.ts in a checkout, where the worker first learns to read TypeScript. */
function startWorker(job: WorkerJob): Worker {
  if (!import.meta.url.endsWith(".ts"))
    return new Worker(new URL("./work.js", import.meta.url), { workerData: job });
  const loader = pathToFileURL(
    createRequire(import.meta.url)
      .resolve("tsx/esm/api")
      .replace(/\.cjs$/, ".mjs"),
  ).href;
  const file = new URL("./work.ts", import.meta.url).href;
  const start = `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(file)}); })`;
  return new Worker(start, { eval: true, workerData: job });
}

/** Units handed to a worker ahead of its answers, so that it never waits. */
const AHEAD = 2;

/** A break is heard between units: what the workers have begun they still finish and keep. */
function inWorkers(
  job: WorkerJob,
  open: readonly number[],
  count: number,
  finish: (index: number, row: Row) => void,
  signal?: AbortSignal,
): Promise<void> {
  return new Promise((resolve, reject) => {
    const workers: Worker[] = [];
    let next = 0;
    let outstanding = 0;
    const stopped = (): boolean => signal?.aborted === true;
    const end = (error?: Error): void => {
      Promise.all(workers.map((worker) => worker.terminate())).then(
        () => (error === undefined ? resolve() : reject(error)),
        reject,
      );
    };
    if (stopped()) return end(new Stopped("stopped"));
    for (let w = 0; w < count; w++) {
      const worker = startWorker(job);
      workers.push(worker);
      const hand = (): void => {
        if (next >= open.length || stopped()) return;
        outstanding++;
        worker.postMessage(open[next++]);
      };
      worker.on("message", ({ index, row }: Done) => {
        outstanding--;
        try {
          finish(index, row);
        } catch (error) {
          return end(error as Error);
        }
        hand();
        if (outstanding === 0) end(next < open.length ? new Stopped("stopped") : undefined);
      });
      worker.on("error", (error) => end(error));
      for (let k = 0; k < AHEAD; k++) hand();
    }
  });
}

/** Opens the file of finished units and takes its rows; a new file gets a first line that names the job. */
function openKept(path: string, job: AnyJob, rows: (Row | undefined)[]): void {
  const header = JSON.stringify({
    crossprism: PROGRAM_VERSION,
    kind: job.kind,
    job: fingerprint(job),
    units: rows.length,
  });
  try {
    if (!existsSync(path) || readFileSync(path, "utf8") === "") writeFileSync(path, `${header}\n`);
    else takeUp(path, header, rows);
    closeSync(openSync(path, "a"));
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined || error instanceof Refusal) throw error;
    throw new Refusal({
      code: "cannot-write",
      field: path,
      received: `a file that cannot be written (${code})`,
      expected: "a file for the finished units",
    });
  }
}

function takeUp(path: string, header: string, rows: (Row | undefined)[]): void {
  const text = readFileSync(path, "utf8");
  const whole = text.slice(0, text.lastIndexOf("\n") + 1);
  const [first, ...lines] = whole.split("\n").slice(0, -1);
  if (first !== header) {
    throw new Refusal({
      code: "another-job",
      field: path,
      received: "finished units of another job, setup or version",
      expected: "a new file, or the one of this same job",
    });
  }
  if (whole.length < text.length) truncateSync(path, Buffer.byteLength(whole));
  for (const line of lines) {
    const { unit, ...row } = JSON.parse(line) as { unit: number } & Row;
    if (
      !(Number.isInteger(unit) && unit >= 0 && unit < rows.length && ("values" in row || "refused" in row))
    ) {
      throw new Refusal({
        code: "damaged-file",
        field: path,
        received: "a line that is no finished unit",
        expected: "an undamaged file",
      });
    }
    rows[unit] = row;
  }
}
