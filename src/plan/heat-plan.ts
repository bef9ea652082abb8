/**
 * The day's heat: power and temperatures minute by minute from the shell of the tube, when it is ready, and how it cools.
 * Where the setup states no heater, a tube is assumed whose power and cooling give the temperatures that it states.
 */
import planning from "../../data/planning.json" with { type: "json" };
import type { Setup } from "../setup/index.ts";
import {
  type PowerStep,
  type ShellInput,
  type ShellState,
  steadyShell,
  TUBE_MATERIALS,
  wallReadings,
  type WallReadings,
  type WarmUp,
  warmUp,
} from "../vessel/index.ts";
import { heatAt, type HeatCurve } from "./heat-curve.ts";
import { USUAL_RAMP } from "./limits.ts";

export interface HeatPlan {
  /** "heater": the setup's own; "assumed": the setup gives temperatures only; "rate": no tube, led up at the usual rate */
  readonly basis: "heater" | "assumed" | "rate";
  /** what the times rest on, one sentence */
  readonly sentence: string;
  readonly shell: ShellInput | null;
  /** where everything comes to rest at the shell's power, K */
  readonly target: WallReadings;
  /** rate at which the metal is led up, K/s */
  readonly ramp: number;
  readonly warm: HeatCurve;
  /** what to set at the heater, about every ten minutes */
  readonly settings: readonly PowerStep[];
  /** s after which metal and top stay within READY of where they come to rest; null where that takes longer than LONGEST */
  readonly ready: number | null;
  readonly cool: HeatCurve;
  /** s after the heater is off until the metal is below COLD; null where that takes longer than LONGEST */
  readonly cold: number | null;
}

/** K */
const READY = 2;
/** Metal below this may be left alone, K: common practice, no source. */
const COLD = 323.15;
/** Time between two settings of the heater, s. */
const INTERVAL = 240;
/** Time between two settings that a person makes by hand, s. */
const SETTING = 600;
/** s */
const LONGEST = 12 * 3600;
/** Share of the usual rate that is aimed at, so that no stretch between two settings is steeper than the rate. */
const AIMED = 0.95;
/** Power is told to this share of the largest. */
const FINEST = 0.01;

const ASSUMED = planning.assumed_tube;

/** Led up at the usual rate for windows and seals, never above the heater's own power; then held. */
export function heatPlan(setup: Setup): HeatPlan {
  if (setup.vessel.contents !== undefined) return atRate(setup);
  const { shell, basis, sentence } = shellFor(setup);
  const steady = setup.steady ?? steadyShell(shell);
  const target = wallReadings(steady);
  const ramp = USUAL_RAMP.value;
  const led = lead(shell, target, AIMED * ramp);
  const cooled = coolDown(shell, steady);
  return {
    basis,
    sentence,
    shell,
    target,
    ramp,
    warm: led.curve,
    settings: settingsOf(led.curve),
    ready: led.ready,
    cool: cooled,
    cold: timeBelow(cooled, COLD),
  };
}

/** A cell in an oven, or a flame: nothing is known of its heat. */
function atRate({ vessel }: Setup): HeatPlan {
  const { bottom, top, ends } = vessel.wall;
  const room = ASSUMED.room.value + 273.15;
  const flame = vessel.contents?.kind === "flame";
  const time = flame ? 1 : Math.max(1, (bottom - room) / USUAL_RAMP.value);
  const line = (to: number): number[] => [flame ? to : Math.min(room, to), to];
  return {
    basis: "rate",
    sentence: flame
      ? "A flame is hot as soon as it burns; let it burn ten minutes until it stands still."
      : `An oven leads the cell up at ${rampWords()}, the side arm always the coolest part; it needs longer to be even.`,
    shell: null,
    target: { bottom, top, ends },
    ramp: USUAL_RAMP.value,
    warm: { time: [0, time], bottom: line(bottom), top: line(top), ends: line(ends), power: [0, 0] },
    settings: [],
    ready: time,
    cool: { time: [0], bottom: [bottom], top: [top], ends: [ends], power: [0] },
    cold: null,
  };
}

function timeBelow({ time, bottom }: HeatCurve, temperature: number): number | null {
  const i = bottom.findIndex((each) => each < temperature);
  return i < 0 ? null : time[i];
}

/** Settings of the heater one after another, each so that the metal comes as near to the ramp as the power allows. */
function lead(
  shell: ShellInput,
  target: WallReadings,
  ramp: number,
): { readonly curve: HeatCurve; readonly ready: number | null } {
  const rows: number[][] = [[0, shell.room, shell.room, shell.room, 0]];
  let start: ShellState | undefined;
  let power = 0;
  /** W by which it changed last */
  let trend = 0;
  /** K that a watt more moves the metal by in one interval */
  let gain = 20 / shell.power;
  let bottom = shell.room;
  let restedAt: number | null = null;
  for (let time = 0; time < LONGEST; time += INTERVAL) {
    const wanted = Math.min(target.bottom, bottom + ramp * INTERVAL);
    const step = (watts: number) => intervalAt(shell, start, watts);
    // The power goes on changing as it did: mostly right at once.
    const before = power;
    power = setting(power + trend, shell.power);
    let tried = step(power);
    for (let k = 0; k < 5; k++) {
      const miss = wanted - tried.readings.bottom;
      const next = setting(power + miss / gain, shell.power);
      if ((miss > -0.4 && miss < 1) || next === power) break;
      const again = step(next);
      const measured = (again.readings.bottom - tried.readings.bottom) / (next - power);
      if (measured > 0) gain = measured;
      power = next;
      tried = again;
    }
    trend = power - before;
    start = tried.state;
    const { bottom: now, top, ends } = tried.readings;
    rows.push([time + INTERVAL, now, top, ends, power]);
    const still = Math.abs(now - target.bottom) < READY && Math.abs(top - target.top) < READY;
    if (!still) restedAt = null;
    else restedAt ??= time + INTERVAL;
    bottom = now;
    // Ten minutes at rest, as the sheet asks for.
    if (restedAt !== null && time + INTERVAL - restedAt >= 600) break;
  }
  if (Math.abs(bottom - target.bottom) >= READY) restedAt = null;
  return { curve: curveOf(rows), ready: restedAt };
}

/** The power in the middle of each ten minutes, where it changes. */
function settingsOf(curve: HeatCurve): PowerStep[] {
  const found: PowerStep[] = [];
  const last = curve.time[curve.time.length - 1];
  for (let from = 0; from < last; from += SETTING) {
    const { power } = heatAt(curve, Math.min(last, from + SETTING / 2));
    if (power !== found.at(-1)?.power) found.push({ from, power });
  }
  return found;
}

/** A power that a person can set, rounded down so that the rate is kept. */
function setting(watts: number, most: number): number {
  const unit = FINEST * most;
  return Math.min(most, Math.max(0, Math.floor(watts / unit + 1e-9) * unit));
}

function intervalAt(shell: ShellInput, start: ShellState | undefined, watts: number) {
  const run = warmUp(shell, {
    duration: INTERVAL,
    steps: [{ from: 0, power: watts }],
    keep: [INTERVAL],
    // Of the simpler of two methods whose difference is taken out: what is left is far smaller.
    tolerance: 3,
    ...(start === undefined ? {} : { start }),
  });
  const [state] = run.kept;
  return { state, readings: lastOf(run) };
}

function lastOf({ bottom, top, ends, time }: WarmUp): WallReadings {
  const i = time.length - 1;
  return { bottom: bottom[i], top: top[i], ends: ends[i] };
}

function coolDown(shell: ShellInput, start: ShellState): HeatCurve {
  const off: readonly PowerStep[] = [{ from: 0, power: 0 }];
  const run = warmUp(shell, { duration: LONGEST, steps: off, start, tolerance: 0.5 });
  const rows = Array.from(run.time, (time, i) => [time, run.bottom[i], run.top[i], run.ends[i], 0]);
  const cold = rows.findIndex((row) => row[1] < COLD);
  return curveOf(cold < 0 ? rows : rows.slice(0, cold + 1));
}

function curveOf(rows: readonly (readonly number[])[]): HeatCurve {
  const column = (c: number): number[] => rows.map((row) => row[c]);
  return { time: column(0), bottom: column(1), top: column(2), ends: column(3), power: column(4) };
}

/** The setup's own shell, or one that comes to rest where the setup says. */
function shellFor(setup: Setup): Pick<HeatPlan, "basis" | "sentence"> & { readonly shell: ShellInput } {
  if (setup.shell !== undefined) {
    return {
      shell: setup.shell,
      basis: "heater",
      sentence: `Times from the balance of heat of this tube at up to ${watts(setup.shell.power)}, led up no faster than ${rampWords()}.`,
    };
  }
  const { vessel, construction } = setup;
  const stated = construction.tubeMaterial;
  const material = stated !== undefined && TUBE_MATERIALS.includes(stated) ? stated : ASSUMED.material;
  const tube: ShellInput = {
    bore: vessel.bore,
    heatedLength: vessel.heatedLength,
    length: vessel.length,
    material,
    thickness: ASSUMED.wall_thickness.value * 1e-3,
    hotStrip: vessel.wall.hotStrip,
    heater: { kind: "electric" },
    power: 100,
    insulation: { material: ASSUMED.lagging, thickness: ASSUMED.lagging_thickness.value * 1e-3 },
    topCooling: { kind: "fixed", coefficient: 20 },
    endCooling: { kind: "still-air" },
    room: ASSUMED.room.value + 273.15,
  };
  const { shell: fitted, top } = restingAt(tube, vessel.wall);
  const reached = Math.abs(top - vessel.wall.top) < 5;
  return {
    shell: fitted,
    basis: "assumed",
    sentence: `This setup states temperatures and no heater: times are those of a ${ASSUMED.wall_thickness.value} mm tube of ${material} under ${ASSUMED.lagging_thickness.value} mm of ${ASSUMED.lagging.replace("-", " ")}, which ${watts(fitted.power)} would hold at this temperature${reached ? "" : " (its top stays warmer than stated)"}. State the heater for times of your own tube.`,
  };
}

const watts = (power: number): string => `${Number(power.toPrecision(2))} W`;
const rampWords = (): string => `${Math.round(USUAL_RAMP.value * 60)} K a minute`;

/**
 * Power and cooling of the top at which a tube rests at a bottom and a top temperature: the top by bisection on the
 * logarithm of its coefficient, the bottom by secant steps on the power within. A top that no cooling reaches gets the nearest.
 */
function restingAt(
  tube: ShellInput,
  wall: { readonly bottom: number; readonly top: number },
): { readonly shell: ShellInput; readonly top: number } {
  let low = Math.log(0.3);
  let high = Math.log(2000);
  let best: Resting = { shell: tube, state: steadyShell(tube) };
  for (let k = 0; k < 9; k++) {
    const middle = (low + high) / 2;
    const topCooling = { kind: "fixed" as const, coefficient: Math.exp(middle) };
    best = atBottom({ shell: { ...best.shell, topCooling }, state: best.state }, wall.bottom);
    const { top } = wallReadings(best.state);
    if (Math.abs(top - wall.top) < 2) break;
    if (top > wall.top) low = middle;
    else high = middle;
  }
  return { shell: best.shell, top: wallReadings(best.state).top };
}

interface Resting {
  readonly shell: ShellInput;
  readonly state: ShellState;
}

/** The power at which the metal rests at a temperature. */
function atBottom({ shell, state }: Resting, bottom: number): Resting {
  let now: Resting = { shell, state: steadyShell(shell, state) };
  for (let k = 0; k < 12; k++) {
    const reached = wallReadings(now.state).bottom;
    if (Math.abs(reached - bottom) < 0.5) break;
    // Loss grows faster than the temperature above the room; a power of 1.3 leads there within a few steps.
    const share = ((bottom - shell.room) / Math.max(1, reached - shell.room)) ** 1.3;
    const next = { ...now.shell, power: now.shell.power * share };
    now = { shell: next, state: steadyShell(next, now.state) };
  }
  return now;
}
