// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { GlanceAnswer } from "../measure/protocol.ts";
import { addReading, EMPTY_HISTORY, type History, MOST_ROWS, WATERFALL_COLUMNS } from "./history.ts";

const answer = (gradient: number): GlanceAnswer => ({
  columns: 640,
  rows: 480,
  view: undefined,
  glance: {
    columnGradient: gradient,
    columnDensity: 1e21,
    lines: [],
    tilt: 0,
    misfit: 0,
    // A level line at row 240 with one column raised by 30.
    row: Float64Array.from({ length: 640 }, (_, c) => (c >= 320 && c < 330 ? 210 : 240)),
    transmission: new Float64Array(640).fill(0.5),
  },
  refused: undefined,
  meter: {
    histogram: new Uint32Array(64),
    clipped: 0,
    black: 0,
    bright: undefined,
    slope: undefined,
    edge: undefined,
  },
  averaged: 1,
  coldKept: false,
  png: undefined,
});

describe("the run so far", () => {
  it("keeps its beginning, its end and a bounded number of rows, however long it lasts", () => {
    let history: History = EMPTY_HISTORY;
    for (let i = 0; i < 3000; i++) history = addReading(history, i * 1.2, answer(-i));
    expect(history.rows.length).toBeLessThanOrEqual(MOST_ROWS);
    expect(history.rows.length).toBeGreaterThan(MOST_ROWS / 2 - 2);
    expect(history.rows[0]?.time).toBe(0);
    expect(history.rows.at(-1)?.time).toBeGreaterThan(3600 - 2 * history.interval);
    const steps = history.rows.slice(1).map((row, i) => row.time - (history.rows[i]?.time ?? 0));
    expect(Math.max(...steps)).toBeLessThan(2.1 * Math.min(...steps));
  });

  it("says how far up the curve stands, and leaves unread frames out", () => {
    const history = addReading(EMPTY_HISTORY, 1, answer(-1));
    const [row] = history.rows;
    expect(row?.height).toHaveLength(WATERFALL_COLUMNS);
    expect(Math.max(...(row?.height ?? []))).toBe(30);
    expect(row?.light[7]).toBe(0.5);
    expect(addReading(history, 9, { ...answer(0), glance: undefined })).toBe(history);
  });
});
