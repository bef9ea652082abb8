/** One worker: is handed a job, then numbers of units; it keeps each row on disk before it answers with it. */

import { appendFileSync } from "node:fs";
import { parentPort, workerData } from "node:worker_threads";
import type { Row } from "../plan/index.ts";
import { type AnyJob, runnerOf } from "./any-job.ts";
import { keptLine } from "./kept-line.ts";

export interface Done {
  readonly index: number;
  readonly row: Row;
}

export interface WorkerJob {
  readonly job: AnyJob;
  /** file of finished units */
  readonly keep?: string;
}

const port = parentPort;
if (port === null) throw new Error("work.ts runs as a worker only");
const { job, keep } = workerData as WorkerJob;
const run = runnerOf(job);
port.on("message", (index: number) => {
  void Promise.resolve(run(index)).then(
    (row) => {
      // Opened to append: whole short lines of several workers never mix, and what is answered is already kept.
      if (keep !== undefined) appendFileSync(keep, keptLine(index, row));
      port.postMessage({ index, row } satisfies Done);
    },
    (error: unknown) =>
      // A fault must end the worker loudly, as a thrown one does.
      setImmediate(() => {
        throw error;
      }),
  );
});
