/** Options shared by the commands that make many forecasts. */

import type { Command } from "commander";
import type { Row } from "../plan/index.ts";
import { Refusal } from "../quantity/index.ts";
import type { AnyJob } from "./any-job.ts";
import { isStopped, runUnits } from "./units.ts";

export interface WorkOptions {
  readonly workers?: string;
  readonly keep?: string;
}

export function withWorkOptions(command: Command): Command {
  return command
    .option("--workers <number>", "cores to work on; by default all")
    .option("--keep <file>", "keep finished units in this file, and go on from it after a break");
}

export function wholeNumber(text: string, option: string, least: number, most: number): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new Refusal({
    code: "bad-number",
    field: option,
    received: JSON.stringify(text),
    expected: `a whole number from ${least} to ${most}`,
  });
}

/** Thrown when the person breaks off: the command ends with code 130, finished units stay in their file. */
export class Interrupted extends Error {}

/** Does the job; progress on stderr where that is a terminal, an interrupt ends it with nothing half-written. */
export async function workOn(job: AnyJob, options: WorkOptions, what = "forecasts"): Promise<Row[]> {
  const stop = new AbortController();
  const interrupt = (): void => stop.abort();
  process.once("SIGINT", interrupt);
  process.once("SIGTERM", interrupt);
  const shown = process.stderr.isTTY;
  try {
    return await runUnits(job, {
      ...(options.workers === undefined
        ? {}
        : { workers: wholeNumber(options.workers, "--workers", 1, 256) }),
      ...(options.keep === undefined ? {} : { keep: options.keep }),
      ...(shown ? { progress: progressLine(what) } : {}),
      signal: stop.signal,
    });
  } catch (error) {
    if (isStopped(error)) throw new Interrupted("interrupted");
    throw error;
  } finally {
    if (shown) process.stderr.write("\r\x1b[K");
    process.off("SIGINT", interrupt);
    process.off("SIGTERM", interrupt);
  }
}

function progressLine(what: string): (done: number, total: number) => void {
  const started = performance.now();
  let last = 0;
  return (done, total) => {
    const now = performance.now();
    if (now - last < 200 && done < total) return;
    last = now;
    const left = ((now - started) / done) * (total - done);
    process.stderr.write(`\r\x1b[K${done} of ${total} ${what}, about ${Math.ceil(left / 1000)} s left`);
  };
}
