/** Jobs that fall into units of work, each a pure function of (job, number). */
import { type SweepJob, sweepRunner } from "./sweep.ts";
import { type Row, type ToleranceJob, toleranceRunner, toleranceUnits } from "./tolerance.ts";

export type Job = SweepJob | ToleranceJob;

export function unitCount(job: Job): number {
  return job.kind === "sweep" ? job.points.length : toleranceUnits(job);
}

/** The function that does one unit; calls may come in any order, each gives the same row wherever it is made. */
export function unitRunner(job: Job): (index: number) => Row {
  return job.kind === "sweep" ? sweepRunner(job) : toleranceRunner(job);
}
