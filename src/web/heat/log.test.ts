// @vitest-environment node
import { describe, expect, it } from "vitest";
import { loggerTable } from "../../plan/logger-table.ts";
import { added, chartOf, logCsv, type Reading, readingsOf, standing } from "./log.ts";

const reading = (minute: number, celsius: number | null, top: number | null = null): Reading => ({
  time: minute * 60,
  bottom: celsius === null ? null : celsius + 273.15,
  top: top === null ? null : top + 273.15,
  ends: null,
  note: "",
});

const curve = {
  time: [0, 600, 1200],
  bottom: [293.15, 343.15, 393.15],
  top: [293.15, 313.15, 333.15],
  ends: [293.15, 293.15, 293.15],
  power: [0, 50, 80],
};

describe("the day's log", () => {
  it("stays in the order of time and is thinned when it grows too long", () => {
    expect(added([reading(5, 30)], [reading(2, 25), reading(9, 40)]).map(({ time }) => time / 60)).toEqual([
      2, 5, 9,
    ]);
    const many = added(
      [],
      Array.from({ length: 5000 }, (_, i) => reading(i, 20)),
    );
    expect(many.length).toBe(600);
    expect([many[0].time, many[599].time]).toEqual([0, 4999 * 60]);
  });

  it("takes the columns that are said, from the minute that is said", () => {
    const table = loggerTable("s,a,b\n0,20,19\n60,OPEN,21\n120,,\n", "log.csv");
    const rows = readingsOf(table, { bottom: 0, top: 1, ends: null }, 300);
    expect(rows.map(({ time, bottom, top }) => [time, bottom, top])).toEqual([
      [300, 293.15, 292.15],
      [360, null, 294.15],
    ]);
  });

  it("says how the newest reading stands", () => {
    const foreseen = () => ({ bottom: 373.15 });
    const say = (...celsius: number[]) =>
      standing(
        celsius.map((c, i) => reading(i, c)),
        foreseen,
        473.15,
      );
    expect(say(90, 105)?.level).toBe("fine");
    expect(say(60)?.sentence).toMatch(/40 K below the forecast/);
    expect(say(130)?.sentence).toMatch(/30 K above the forecast/);
    expect(say(205)?.level).toBe("stop");
    expect(standing([reading(1, null, 50)], foreseen, 473.15)).toBeUndefined();
  });

  it("lays forecast and readings on one axis of time", () => {
    const chart = chartOf(curve, [reading(5, 40, 25), reading(15, 90), reading(30, 130)]);
    expect(chart.x).toEqual([0, 5, 10, 15, 20, 30]);
    expect(chart.bottom.map((v) => Math.round(v))).toEqual([20, 45, 70, 95, 120, Number.NaN]);
    expect(chart.logBottom.map((v) => Math.round(v))).toEqual([Number.NaN, 40, 65, 90, 103, 130]);
    expect(chart.logTop[1]).toBeCloseTo(25, 9);
    expect(chart.highest).toBeCloseTo(130, 9);
  });

  it("goes out as a table that comes back in", () => {
    const rows = [reading(0, 20, 19), { ...reading(10, 70), note: 'gap "opens", faint' }];
    const back = loggerTable(logCsv(rows), "log.csv");
    expect(back.time).toEqual([0, 600]);
    expect(back.likely).toEqual({ bottom: 0, top: 1, ends: null });
    expect(back.columns[0]).toEqual([293.15, 343.15]);
  });
});
