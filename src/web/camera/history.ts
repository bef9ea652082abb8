/** What the camera's readings were: the whole run, thinned as it grows so that it always fits one figure. */
import type { GlanceAnswer } from "../measure/protocol.ts";

/** One line of the waterfall. */
export interface HistoryRow {
  /** s */
  readonly time: number;
  readonly columnGradient: number;
  readonly columnDensity: number;
  /** height of the curve above its own middle, pixels up, one value every so many columns */
  readonly height: Float32Array;
  /** share of light left there */
  readonly light: Float32Array;
}

export interface History {
  readonly rows: readonly HistoryRow[];
  /** shortest time between two rows, s; at least doubles whenever the rows are full */
  readonly interval: number;
}

export const EMPTY_HISTORY: History = { rows: [], interval: 0.2 };
export const MOST_ROWS = 240;
/** Columns of the waterfall. */
export const WATERFALL_COLUMNS = 320;

/** @param time s */
export function addReading(history: History, time: number, answer: GlanceAnswer): History {
  const { glance } = answer;
  if (glance === undefined) return history;
  const last = history.rows.at(-1);
  if (last !== undefined && time - last.time < history.interval * (1 - 1e-9)) return history;
  const row: HistoryRow = {
    time,
    columnGradient: glance.columnGradient,
    columnDensity: glance.columnDensity,
    ...thinned(glance.row, glance.transmission),
  };
  const rows = [...history.rows, row];
  if (rows.length <= MOST_ROWS) return { ...history, rows };
  // Frames may come more seldom than the interval asks: what counts is how far apart the rows stand.
  const apart = (row.time - rows[0].time) / (rows.length - 1);
  return { rows: rows.filter((_, i) => i % 2 === 0), interval: 2 * Math.max(history.interval, apart) };
}

function thinned(
  row: Float64Array,
  transmission: Float64Array,
): { height: Float32Array; light: Float32Array } {
  const height = new Float32Array(WATERFALL_COLUMNS);
  const light = new Float32Array(WATERFALL_COLUMNS);
  // The undeflected line is the straight one through both ends, where the vapour bends least.
  const n = row.length;
  const [left, right] = [row[0], row[n - 1]];
  for (let i = 0; i < WATERFALL_COLUMNS; i++) {
    const at = Math.min(n - 1, Math.round(((i + 0.5) * n) / WATERFALL_COLUMNS));
    height[i] = left + ((right - left) * at) / (n - 1) - row[at];
    light[i] = Math.min(1, Math.max(0, transmission[at]));
  }
  return { height, light };
}
