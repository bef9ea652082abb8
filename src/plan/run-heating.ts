/** The heating table of the sheet: when what is reached, with the power to set and what should be seen. */
import { meltingPoint } from "../medium/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { metalOf, type Setup } from "../setup/index.ts";
import { heatAt, timeReaching } from "./heat-curve.ts";
import type { HeatPlan } from "./heat-plan.ts";
import { type Outcome, quickForecast } from "./quick.ts";
import { type RunPicture, runPicture } from "./run-pictures.ts";
import { digits, nm } from "./words.ts";

/** One line of the heating table. */
export interface HeatRow {
  /** s since the heater was switched on */
  readonly time: number;
  /** K */
  readonly bottom: number;
  readonly top: number;
  /** to set from here on, W */
  readonly power: number;
  readonly mark: string;
  readonly see: string;
  readonly picture?: RunPicture;
}

/** Temperatures below the one that is set at which a picture is drawn, K. */
const DRAWN = [90, 60, 30] as const;

/** From the room's temperature to the set one along the plan, with marks and what should be seen at each. */
export function heatingRows(setup: Setup, plan: HeatPlan): HeatRow[] {
  const { bottom, top, ends } = setup.vessel.wall;
  const melting = meltingPoint(metalOf(setup, "a plan of heating").element);
  const room = plan.warm.bottom[0];
  const last = plan.warm.time[plan.warm.time.length - 1];
  const quick = quickForecast();
  const row = (time: number, mark: string, drawn: boolean, at?: { bottom: number; top: number }): HeatRow => {
    const foreseen = heatAt(plan.warm, time);
    const now = at ?? foreseen;
    const hot = heatedTo(setup, now.bottom, now.top, Math.min(ends, now.bottom));
    return {
      time,
      bottom: now.bottom,
      top: now.top,
      power: heatAt(plan.warm, time + 1).power,
      mark,
      see: now.bottom < melting ? "the cold line" : seen(quick(hot)),
      ...(drawn ? { picture: runPicture(hot, false) } : {}),
    };
  };
  const on: HeatRow = {
    time: 0,
    bottom: room,
    top: room,
    power: heatAt(plan.warm, 1).power,
    mark: "heater on",
    see: "the cold line",
  };
  const melts = melting > room && melting < bottom ? timeReaching(plan.warm, melting) : null;
  const between = DRAWN.flatMap((below) => {
    const time = bottom - below > room + 20 ? timeReaching(plan.warm, bottom - below) : null;
    return time === null ? [] : [row(time, "", true)];
  });
  return [
    on,
    ...(melts === null ? [] : [row(melts, "metal melts: a burst of gas is likely, watch the gauge", false)]),
    ...between,
    row(plan.ready ?? last, "set temperature: wait until it stands still for ten minutes", true, {
      bottom,
      top,
    }),
  ].sort((a, b) => a.time - b.time);
}

function heatedTo(setup: Setup, bottom: number, top: number, ends: number): Setup {
  const { vessel } = setup;
  return { ...setup, vessel: { ...vessel, wall: { ...vessel.wall, bottom, top, ends } } };
}

function seen({ line, wavelength, halfGap, height, heightTimes, bridge }: Outcome): string {
  if (line === null || halfGap === null || height === null || wavelength === null) return "no line in view";
  if (halfGap === 0) return "the cold line, nothing dark yet";
  const gap = `gap at ${nm(wavelength)} nm, half-width ${formatQuantity(halfGap, "m", { digits: 2 })}`;
  const branches =
    (heightTimes ?? 0) < 1
      ? "branches not yet out of the line"
      : `branches ${formatQuantity(height, "m", { digits: 2 })}, ${digits(heightTimes ?? 0, 2)} times as high as the line is thick`;
  return `${gap}; ${branches}${bridge === 0 ? "; the two gaps have met" : ""}`;
}
