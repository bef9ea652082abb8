/** One worker: is handed a job, then numbers of units, and answers each with its row. */

import { parentPort, workerData } from "node:worker_threads";
import { type Job, type Row, unitRunner } from "../plan/index.ts";

export interface Done {
  readonly index: number;
  readonly row: Row;
}

const port = parentPort;
if (port === null) throw new Error("work.ts runs as a worker only");
const run = unitRunner(workerData as Job);
port.on("message", (index: number) => {
  port.postMessage({ index, row: run(index) } satisfies Done);
});
