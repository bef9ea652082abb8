import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { warmUpCsv } from "../vessel/index.ts";
import {
  curveFog,
  curvePoints,
  curveStage,
  forecastFog,
  heatingSeries,
  parseJsonObject,
  parseSetup,
  setPath,
  vapourStage,
  wallAtMinute,
} from "./index.ts";

const root = join(import.meta.dirname, "../..");
const document = (name: string) =>
  parseJsonObject(readFileSync(join(root, `examples/${name}.json`), "utf8"), name);
const heated = parseSetup(document("heater-sodium"));
const GRID = { radial: 8, angular: 16, axial: 16 };

describe("a heater in time", () => {
  it("gives the wall of any minute, colder early, the steady one late", () => {
    const early = wallAtMinute(heated, 4);
    const late = wallAtMinute(heated, 180);
    expect(early.shell.temperature[0]).toBeLessThan(heated.vessel.wall.bottom - 100);
    const at = (shell: typeof early.shell) => vapourStage(heated, { grid: GRID, shell }).middle.columnDensity;
    const steady = vapourStage(heated, { grid: GRID }).middle.columnDensity;
    expect(at(late.shell) / steady).toBeCloseTo(1, 2);
    expect(at(early.shell)).toBeLessThan(0.05 * steady);
    const read = vapourStage(heated, { grid: GRID, shell: early.shell });
    expect(read.shell).toBe(early.shell);
  });

  it("follows steps of its power: switched off, the vapour is gone within minutes", () => {
    const { series } = heatingSeries(heated, 4800, [{ from: 2400, power: 0 }], 9);
    expect(Array.from(series.time)).toEqual([0, 600, 1200, 1800, 2400, 3000, 3600, 4200, 4800]);
    const column = series.columnDensity;
    expect(column[4]).toBeGreaterThan(0.9 * column[3]);
    expect(column[6]).toBeLessThan(1e-3 * column[4]);
    expect(series.heater[3]).toBeCloseTo(120, 6);
    expect(series.heater[8]).toBe(0);
    const rows = warmUpCsv(series).trim().split("\n");
    expect(rows.length).toBe(10);
    expect(rows[0].split(",").length).toBe(rows[5].split(",").length);
    expect(warmUpCsv(series)).not.toMatch(/NaN|Infinity/);
  });

  it("refuses a setup without one, and minutes beyond a day", () => {
    const measured = parseSetup(document("sodium"));
    expect(() => wallAtMinute(measured, 10)).toThrow(/vessel.heater/);
    expect(() => heatingSeries(measured, 3600)).toThrow(Refusal);
    expect(() => wallAtMinute(heated, 2000)).toThrow(/1440/);
  });
});

describe("fog in a forecast", () => {
  it("is a band about half-gap and edge deflection of every line, wide where the top is far too cold", () => {
    const wide = (top: string) => {
      const setup = parseSetup(setPath(document("blue-twins"), "vessel.top", top));
      const stage = vapourStage(setup, { grid: GRID });
      const curve = curveStage(setup, stage);
      const fog = forecastFog(stage, curve.lines);
      expect(fog.lines.length).toBe(curve.lines.length);
      fog.lines.forEach((line, i) => {
        expect(line.halfGap[0]).toBeLessThanOrEqual(curve.lines[i].halfGap);
        expect(line.halfGap[1]).toBeGreaterThanOrEqual(curve.lines[i].halfGap);
        expect(line.edgeDeflection[0]).toBeLessThanOrEqual(curve.lines[i].edgeDeflection);
        expect(line.edgeDeflection[1]).toBeGreaterThanOrEqual(curve.lines[i].edgeDeflection);
      });
      const points = curvePoints(setup, curve);
      const band = curveFog(setup, stage, points);
      points.deflection.forEach((own, i) => {
        expect(band.deflectionLow[i]).toBeLessThanOrEqual(own);
        expect(band.deflectionHigh[i]).toBeGreaterThanOrEqual(own);
        expect(band.transmissionLow[i]).toBeLessThanOrEqual(points.transmission[i]);
        expect(band.transmissionHigh[i]).toBeGreaterThanOrEqual(points.transmission[i]);
      });
      // Far from the lines light is bent as the columns' own band says, and hardly dimmed.
      const k = points.wavelength.findIndex((w) => w > curve.lines[0].wavelength - 0.3e-9);
      const share = (end: Float64Array) => (end[k] - points.deflection[k]) / Math.abs(points.deflection[k]);
      curveSpread = share(band.deflectionHigh) - share(band.deflectionLow);
      return fog;
    };
    let curveSpread = 0;
    const gentle = wide("215 degC");
    const gentleCurve = curveSpread;
    const harsh = wide("60 degC");
    expect(curveSpread).toBeGreaterThan(1.5 * gentleCurve);
    expect(curveSpread).toBeGreaterThan(1);
    expect(gentle.chance).toBe("none");
    expect(harsh.chance).toBe("likely");
    const spread = ({ lines }: typeof gentle) => lines[0].halfGap[1] / lines[0].halfGap[0];
    expect(spread(harsh)).toBeGreaterThan(2 * spread(gentle));
  });
});
