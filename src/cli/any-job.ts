/** Jobs of many units that the command line spreads over workers: forecasts and readings. */

import { type Job, type Row, unitCount, unitRunner } from "../plan/index.ts";
import { type ReadingsJob, readingsRunner } from "./readings.ts";

export type AnyJob = Job | ReadingsJob;

export function countOf(job: AnyJob): number {
  return job.kind === "readings" ? job.pictures.length : unitCount(job);
}

export function runnerOf(job: AnyJob): (index: number) => Row | Promise<Row> {
  return job.kind === "readings" ? readingsRunner(job) : unitRunner(job);
}
