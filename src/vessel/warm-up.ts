/** The shell in time: warm-up, steps of the heater, cool-down, and when the tube is ready. */
import { ShellModel } from "./shell.ts";
import type { ShellInput, ShellState } from "./shell-api.ts";

/** Heater power from a time on. */
export interface PowerStep {
  /** s */
  readonly from: number;
  /** W */
  readonly power: number;
}

export interface WarmUpOptions {
  /** s */
  readonly duration: number;
  /** ascending in time; default: the shell's power from 0 on. For a cool-down, power 0. */
  readonly steps?: readonly PowerStep[];
  /** where it starts; default everything at room temperature */
  readonly start?: ShellState;
  /** times at which the whole shell is kept, s, ascending */
  readonly keep?: readonly number[];
  /** error of temperature allowed in a step, K, default 0.2 */
  readonly tolerance?: number;
}

/** Arrays of one length, one entry per step taken. */
export interface WarmUp {
  /** s */
  readonly time: Float64Array;
  /** bottom and top at mid-length, outermost slices, K */
  readonly bottom: Float64Array;
  readonly top: Float64Array;
  readonly ends: Float64Array;
  /** W into the wall */
  readonly heater: Float64Array;
  /** warmest outlet of a liquid, K; the room's temperature where there is none */
  readonly outlet: Float64Array;
  /** shells at the times asked for */
  readonly kept: readonly ShellState[];
  /** those times, s, of the length of `kept` */
  readonly keptAt: Float64Array;
}

/**
 * Temperatures of a shell over time. Each step is the implicit Euler method once over the step and twice over its
 * halves, combined to second order; their difference chooses the step. Steps end on every change of power and every
 * time to keep.
 */
export function warmUp(input: ShellInput, options: WarmUpOptions): WarmUp {
  const model = new ShellModel(input);
  const n = model.faces;
  const now =
    options.start === undefined ? new Float64Array(n).fill(input.room) : model.quarter(options.start);
  const steps = options.steps ?? [{ from: 0, power: input.power }];
  const keep = options.keep ?? [];
  const tolerance = options.tolerance ?? 0.2;
  const rows: number[][] = [];
  const kept: ShellState[] = [];
  const keptAt: number[] = [];
  const whole = new Float64Array(n);
  const half = new Float64Array(n);
  const full = new Float64Array(n);
  let time = 0;
  let dt = 1;
  let nextKeep = 0;
  const record = (power: number): void => {
    const { bottom, top, ends } = model.readings(now);
    const balance = model.balance(now, power);
    const outlet = Math.max(balance.topOutlet ?? input.room, balance.endOutlet ?? input.room);
    rows.push([time, bottom, top, ends, balance.heater, outlet]);
    while (nextKeep < keep.length && keep[nextKeep] <= time) {
      kept.push(model.state(now, power));
      keptAt.push(keep[nextKeep]);
      nextKeep++;
    }
  };
  record(powerAt(steps, 0));
  while (time < options.duration) {
    const power = powerAt(steps, time);
    let end = options.duration;
    for (const step of steps) if (step.from > time && step.from < end) end = step.from;
    if (nextKeep < keep.length && keep[nextKeep] < end) end = keep[nextKeep];
    // Two steps at the most to the next stop, so that none is a splinter.
    const left = end - time;
    const take = dt >= left ? left : Math.min(dt, 0.5 * left);
    whole.set(now);
    model.advance(now, whole, take, power);
    half.set(now);
    model.advance(now, half, 0.5 * take, power);
    full.set(half);
    model.advance(half, full, 0.5 * take, power);
    let error = 0;
    for (let i = 0; i < n; i++) error = Math.max(error, Math.abs(full[i] - whole[i]));
    const factor = Math.min(4, Math.max(0.2, 0.9 * Math.sqrt(tolerance / Math.max(error, 1e-12))));
    if (error > tolerance && take > 1e-3) {
      dt = take * Math.min(0.9, factor);
      continue;
    }
    for (let i = 0; i < n; i++) now[i] = 2 * full[i] - whole[i];
    time = take === left ? end : time + take;
    dt = take * factor;
    record(power);
  }
  const column = (c: number): Float64Array => Float64Array.from(rows, (row) => row[c]);
  return {
    time: column(0),
    bottom: column(1),
    top: column(2),
    ends: column(3),
    heater: column(4),
    outlet: column(5),
    kept,
    keptAt: Float64Array.from(keptAt),
  };
}

/**
 * When the bottom first stays within `band` kelvin of its value at the end, s: "ready". Null where it still moves by
 * more than that over the last tenth of the time.
 */
export function readyTime(run: WarmUp, band = 2): number | null {
  const { time, bottom } = run;
  const last = bottom[bottom.length - 1];
  const end = time[time.length - 1];
  let ready = bottom.length - 1;
  while (ready > 0 && Math.abs(bottom[ready - 1] - last) <= band) ready--;
  return time[ready] > 0.9 * end ? null : time[ready];
}

function powerAt(steps: readonly PowerStep[], time: number): number {
  let power = 0;
  for (const step of steps) if (step.from <= time) power = step.power;
  return power;
}
