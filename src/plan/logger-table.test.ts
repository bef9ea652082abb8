import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { loggerTable } from "./logger-table.ts";

const read = (...lines: string[]) => loggerTable(lines.join("\n"), "log.csv");

describe("what a logger writes", () => {
  it("commas, names, seconds, °C", () => {
    const table = read("time (s),metal (°C),top (°C),window A", "0,20.5,20.1,19.8", "60,25.5,21,19.9");
    expect(table.names).toEqual(["metal (°C)", "top (°C)", "window A"]);
    expect(table.time).toEqual([0, 60]);
    expect(table.columns[0]).toEqual([293.65, 298.65]);
    expect(table.likely).toEqual({ bottom: 0, top: 1, ends: 2 });
  });

  it("semicolons with decimal commas, minutes, another order of columns", () => {
    const table = read("Minute;Top;Metal", "0,5;20,5;21,0", "1,5;22,5;31,0", "2,5;;41,0");
    expect(table.time).toEqual([0, 60, 120]);
    expect(table.columns[0]).toEqual([293.65, 295.65, null]);
    expect(table.likely).toEqual({ bottom: 1, top: 0, ends: null });
  });

  it("tabs without names: metal, top, window in the order of the sheet", () => {
    const table = read("0\t20\t19\t18", "10\t30\t25\t18");
    expect(table.names).toEqual(["column 2", "column 3", "column 4"]);
    expect(table.likely).toEqual({ bottom: 0, top: 1, ends: 2 });
  });

  it("a clock that passes midnight, dates of both kinds, time zones", () => {
    expect(read("23:59:30,20", "00:00:30,21", "00:01,22").time).toEqual([0, 60, 90]);
    expect(read("2026-11-25T14:02:10Z,20", "2026-11-25T14:03:10.5Z,21").time).toEqual([0, 60.5]);
    expect(read("25.11.2026 23:59:59;20", "26.11.2026 00:00:01;21").time).toEqual([0, 2]);
  });

  it("kelvin, Fahrenheit, units in the cells, words where a sensor is open, notes before the names", () => {
    const table = read("# our logger", "t,metal [K],top (°F)", "0,300,68 F", "5,OPEN,77");
    expect(table.columns[0]).toEqual([300, null]);
    expect(table.columns[1][0]).toBeCloseTo(293.15, 9);
    expect(table.columns[1][1]).toBeCloseTo(298.15, 9);
    expect(read("0,20 °C", "1,21 °C").columns[0]).toEqual([293.15, 294.15]);
  });

  it.each([
    ["nothing", ""],
    ["no times", "metal,top\na,b"],
    ["one row", "0,20"],
    ["times that stand still", "0,20\n0,21"],
  ])("refuses %s in one sentence", (_, text) => {
    expect(() => loggerTable(text, "log.csv")).toThrow(Refusal);
    expect(() => loggerTable(text, "log.csv")).toThrow(/^log\.csv: expected /);
  });
});
