/** The day's readings: written by hand or taken from a logger, set against what was foretold. Pure. */
import type { HeatCurve } from "../../plan/heat-curve.ts";
import { heatAt } from "../../plan/heat-curve.ts";
import type { LoggerTable, Place } from "../../plan/logger-table.ts";

export interface Reading {
  /** s since the heater was switched on */
  readonly time: number;
  /** K; null where it was not read */
  readonly bottom: number | null;
  readonly top: number | null;
  readonly ends: number | null;
  readonly note: string;
}

export interface Day {
  /** milliseconds since 1970; null before */
  readonly heaterOn: number | null;
  readonly heaterOff: number | null;
  /** ascending in time */
  readonly readings: readonly Reading[];
}

export const NO_DAY: Day = { heaterOn: null, heaterOff: null, readings: [] };

/** Readings a chart and a table can still hold; a longer log is thinned evenly. */
const MOST = 600;

export function added(readings: readonly Reading[], more: readonly Reading[]): readonly Reading[] {
  const all = [...readings, ...more].sort((a, b) => a.time - b.time);
  if (all.length <= MOST) return all;
  return Array.from({ length: MOST }, (_, i) => all[Math.round((i * (all.length - 1)) / (MOST - 1))]);
}

/** Rows of a logger as readings. @param offset s from the heater's start to the first row */
export function readingsOf(
  table: LoggerTable,
  columns: Readonly<Record<Place, number | null>>,
  offset: number,
): readonly Reading[] {
  const at = (place: Place, row: number): number | null => {
    const column = columns[place];
    return column === null ? null : (table.columns[column]?.[row] ?? null);
  };
  return table.time
    .map((time, row) => ({
      time: time + offset,
      bottom: at("bottom", row),
      top: at("top", row),
      ends: at("ends", row),
      note: "",
    }))
    .filter(({ bottom, top, ends }) => bottom !== null || top !== null || ends !== null);
}

export interface Standing {
  readonly level: "fine" | "mind" | "stop";
  readonly sentence: string;
}

/** Further off than this, K, asks for thought: common practice, no source. */
const OFF = 15;

/** How the newest reading of the metal stands to the forecast. @param tooHot K, from which the heater goes off */
export function standing(
  readings: readonly Reading[],
  foreseen: (time: number) => { readonly bottom: number },
  tooHot: number,
): Standing | undefined {
  const newest = [...readings].reverse().find(({ bottom }) => bottom !== null);
  if (newest?.bottom === undefined || newest.bottom === null) return undefined;
  const minute = Math.round(newest.time / 60);
  const now = `${Math.round(newest.bottom - 273.15)}\u202f°C at minute ${minute}`;
  if (newest.bottom >= tooHot) {
    return {
      level: "stop",
      sentence: `The metal is at ${now}, ${Math.round(newest.bottom - tooHot + 20)} K over the plan: heater off at the switch, leave the gas in, step back.`,
    };
  }
  const off = newest.bottom - foreseen(newest.time).bottom;
  if (Math.abs(off) < OFF)
    return { level: "fine", sentence: `The metal is at ${now}, within ${OFF} K of the forecast.` };
  return {
    level: "mind",
    sentence: `The metal is at ${now}, ${Math.round(Math.abs(off))} K ${off > 0 ? "above" : "below"} the forecast: ${off > 0 ? "less power, or a thermocouple that reads the heater" : "more loss than assumed, or a thermocouple that has come loose"}.`,
  };
}

/** What the chart draws: all curves on one axis of time; NaN where there is nothing. */
export interface Chart {
  /** min */
  readonly x: readonly number[];
  /** °C */
  readonly bottom: readonly number[];
  readonly top: readonly number[];
  readonly logBottom: readonly number[];
  readonly logTop: readonly number[];
  readonly highest: number;
}

export function chartOf(curve: HeatCurve, readings: readonly Reading[]): Chart {
  const last = curve.time[curve.time.length - 1];
  const inside = readings.filter(({ time }) => time >= 0);
  const times = [...new Set([...curve.time, ...inside.map(({ time }) => time)])].sort((a, b) => a - b);
  const predicted = (part: "bottom" | "top") =>
    times.map((time) => (time > last ? Number.NaN : heatAt(curve, time)[part] - 273.15));
  const logged = (part: "bottom" | "top") => {
    const points = inside.flatMap((each) => {
      const value = each[part];
      return value === null ? [] : [[each.time, value - 273.15] as const];
    });
    return times.map((time) => between(points, time));
  };
  const chart = {
    x: times.map((time) => time / 60),
    bottom: predicted("bottom"),
    top: predicted("top"),
    logBottom: logged("bottom"),
    logTop: logged("top"),
  };
  const highest = Math.max(...[...chart.bottom, ...chart.logBottom].filter((each) => !Number.isNaN(each)));
  return { ...chart, highest };
}

function between(points: readonly (readonly [number, number])[], time: number): number {
  const after = points.findIndex(([t]) => t >= time);
  if (after < 0 || points.length === 0) return Number.NaN;
  const [t1, y1] = points[after];
  if (after === 0) return t1 === time ? y1 : Number.NaN;
  const [t0, y0] = points[after - 1];
  return y0 + ((y1 - y0) * (time - t0)) / (t1 - t0);
}

/** The readings as a file that any table program opens. */
export function logCsv(readings: readonly Reading[]): string {
  const cell = (kelvin: number | null): string => (kelvin === null ? "" : (kelvin - 273.15).toFixed(1));
  const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const rows = readings.map(({ time, bottom, top, ends, note }) =>
    [time.toFixed(0), cell(bottom), cell(top), cell(ends), quoted(note)].join(","),
  );
  return `${["time_s,metal_degC,top_degC,window_degC,note", ...rows].join("\n")}\n`;
}
