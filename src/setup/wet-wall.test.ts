import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { topAdvice } from "../vessel/index.ts";
import {
  curveStage,
  examineSetup,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  vapourStage,
} from "./index.ts";

const root = join(import.meta.dirname, "../..");
const demo = parseJsonObject(readFileSync(join(root, "examples/blue-twins.json"), "utf8"), "blue-twins.json");
const GRID = { radial: 12, angular: 16, axial: 16 };
const stage = (...settings: string[]) =>
  vapourStage(parseSetup(overrideSetup(demo, settings)), { grid: GRID });

describe("the wet part of the wall in a setup", () => {
  it("is the whole wall where nothing is stated, and where what is stated is the whole wall", () => {
    expect(stage().field.wet).toBeUndefined();
    const all = stage("vessel.wetFrom=-3 m", "vessel.wetTo=3 m");
    expect(all.field.wet?.every((share) => share === 1)).toBe(true);
    expect(all.middle.columnDensity / stage().middle.columnDensity).toBeCloseTo(1, 6);
  });

  it("a dry top takes no metal: density above rises, the layers vanish, and the curve with them", () => {
    const wet = stage();
    const dry = stage("vessel.wetStrip=120 deg");
    expect(dry.middle.columnDensity).toBeGreaterThan(wet.middle.columnDensity);
    expect(Math.abs(dry.middle.columnGradient)).toBeLessThan(0.5 * Math.abs(wet.middle.columnGradient));
    const faces = dry.field.wet ?? new Float64Array();
    expect(dry.field.evaporation.every((flow, w) => faces[w] > 0 || flow === 0)).toBe(true);
    const setup = parseSetup(overrideSetup(demo, ["vessel.wetStrip=120 deg"]));
    const edge = (s: typeof wet) => curveStage(setup, s).lines[0]?.edgeDeflection ?? NaN;
    // What little gradient is left points the other way: the same mole fraction beside a cooler top.
    expect(dry.middle.columnGradient).toBeGreaterThan(0);
    expect(edge(dry) / edge(wet)).toBeLessThan(0);
    expect(edge(dry) / edge(wet)).toBeGreaterThan(-0.7);
  });

  it("says that a dry wall colder than the dew point beside it does not stay dry", () => {
    const codes = (s: ReturnType<typeof stage>) => s.numbers.warnings.map((warning) => warning.code);
    expect(codes(stage("vessel.wetStrip=120 deg"))).toContain("dry-wall-colder-than-dew-point");
    expect(codes(stage())).not.toContain("dry-wall-colder-than-dew-point");
    const cold = stage("vessel.wetFrom=-390 mm", "vessel.wetTo=390 mm");
    expect(codes(cold)).not.toContain("dry-wall-colder-than-dew-point");
  });

  it("refuses metal outside the tube, and advice on a top that is dry", () => {
    const faults = (...settings: string[]) =>
      examineSetup(overrideSetup(demo, settings)).faults.map(({ code, field }) => `${code} ${field}`);
    expect(faults("vessel.wetFrom=1 m")).toEqual(["no-wet-wall vessel.wetFrom"]);
    expect(faults("vessel.wetFrom=10 mm", "vessel.wetTo=-10 mm")).toEqual(["no-wet-wall vessel.wetTo"]);
    const { vessel } = parseSetup(overrideSetup(demo, ["vessel.wetStrip=60 deg"]));
    expect(() => topAdvice(vessel, 0, { radial: 8, angular: 16, axial: 8 })).toThrow(/vessel.wetStrip/);
  });
});
