import type { HeatPlan } from "./heat-plan.ts";
import type { HeatRow } from "./run-heating.ts";

/** What of a sheet hangs on the kind of vessel. */
export interface SheetParts {
  readonly gather: readonly string[];
  readonly interlocks: readonly string[];
  readonly stopNow: readonly string[];
  readonly heating: readonly HeatRow[];
  /** temperatures over the whole day, and what they rest on */
  readonly heat: HeatPlan;
  /** columns of the log */
  readonly log: readonly string[];
  readonly photographs: readonly string[];
  readonly coolDown: readonly string[];
  readonly clearingUp: readonly string[];
}
