/** One worker: is handed a job, then numbers of units; it keeps each row on disk before it answers with it. */

import { appendFileSync } from "node:fs";
import { parentPort, workerData } from "node:worker_threads";
import { type Job, type Row, unitRunner } from "../plan/index.ts";
import { keptLine } from "./kept-line.ts";

export interface Done {
  readonly index: number;
  readonly row: Row;
}

export interface WorkerJob {
  readonly job: Job;
  /** file of finished units */
  readonly keep?: string;
}

const port = parentPort;
if (port === null) throw new Error("work.ts runs as a worker only");
const { job, keep } = workerData as WorkerJob;
const run = unitRunner(job);
port.on("message", (index: number) => {
  const row = run(index);
  // Opened to append: whole short lines of several workers never mix, and what is answered is already kept.
  if (keep !== undefined) appendFileSync(keep, keptLine(index, row));
  port.postMessage({ index, row } satisfies Done);
});
