/** A setup's heater in time: the wall at any minute, and the vapour through warm-up and cool-down. */
import { Refusal } from "../quantity/index.ts";
import {
  COARSE_GRID,
  type PowerStep,
  type ShellInput,
  type ShellState,
  type VapourSeries,
  vapourSeries,
  type WarmUp,
  warmUp,
} from "../vessel/index.ts";
import type { Setup } from "./api.ts";

/** s, followed from cold: longer than most tubes need to stand still. */
export const USUAL_DURATION = 4 * 3600;

/** The heater's own power from the start, then the steps, ascending in time. */
export function heaterSteps(shell: ShellInput, later: readonly PowerStep[]): readonly PowerStep[] {
  return [{ from: 0, power: shell.power }, ...later].sort((a, b) => a.from - b.from);
}

/** The setup's shell; refused where the wall is not given by a heater. `field` names who asks. */
export function heatedShell(setup: Setup, field: string): ShellInput {
  if (setup.shell !== undefined) return setup.shell;
  throw new Refusal({
    code: "no-heater",
    field,
    received: "a setup without a heater",
    expected: "a setup that gives vessel.heater, whose warm-up can be followed",
  });
}

export interface Minute {
  readonly shell: ShellState;
  /** the run from cold, over `USUAL_DURATION` or to the minute asked for */
  readonly run: WarmUp;
}

/**
 * The wall so many minutes after the heater was switched on, from everything at room temperature; `later` are steps of
 * its power, W, after the setup's own (0 for a cool-down). Hand `shell` to `forecast` or `vapourStage`.
 */
export function wallAtMinute(
  setup: Setup,
  minutes: number,
  later: readonly PowerStep[] = [],
  field = "minutes",
): Minute {
  const shell = heatedShell(setup, field);
  if (!(minutes >= 0 && minutes <= 1440)) {
    throw new Refusal({
      code: "bad-value",
      field,
      received: `"${minutes}"`,
      expected: "minutes from 0 to 1440",
    });
  }
  const at = minutes * 60;
  const run = warmUp(shell, {
    duration: Math.max(USUAL_DURATION, at),
    steps: heaterSteps(shell, later),
    keep: [at],
  });
  return { shell: run.kept[0], run };
}

/** Vapour of the setup's tube at `points` equal times from 0 to `duration`, s, on the middle of the beam. */
export function heatingSeries(
  setup: Setup,
  duration: number,
  later: readonly PowerStep[] = [],
  points = 61,
  field = "duration",
): { readonly series: VapourSeries; readonly run: WarmUp } {
  const shell = heatedShell(setup, field);
  const keep = Array.from({ length: points }, (_, i) => (duration * i) / (points - 1));
  const run = warmUp(shell, { duration, steps: heaterSteps(shell, later), keep });
  return { series: vapourSeries(setup.vessel, run, setup.path.beamHeight, COARSE_GRID), run };
}
