import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import {
  curveStage,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  type Setup,
  vapourStage,
} from "../setup/index.ts";
import { numberAt, withNumbers } from "./numbers.ts";
import { quickForecast } from "./quick.ts";

function setupOf(name: string, ...settings: string[]): Setup {
  const text = readFileSync(join(import.meta.dirname, "../../examples", `${name}.json`), "utf8");
  return parseSetup(overrideSetup(parseJsonObject(text, name), settings));
}

describe("quick forecast", () => {
  it.each(["strontium", "sodium", "blue-twins"])(
    "agrees with the whole chain on the default grid: %s",
    (name) => {
      const setup = setupOf(name, "camera.columns=160", "camera.rows=100", "camera.pixel=19.2 um");
      const quick = quickForecast()(setup);
      const vapour = vapourStage(setup);
      const curve = curveStage(setup, vapour);
      const [line] = [...curve.lines].sort((a, b) => Math.abs(b.edgeDeflection) - Math.abs(a.edgeDeflection));
      expect(quick.line).toBe(line.line);
      expect(Math.abs((quick.halfGap ?? 0) / line.halfGap - 1)).toBeLessThan(0.01);
      expect(Math.abs((quick.deflection ?? 0) / Math.abs(line.edgeDeflection) - 1)).toBeLessThan(0.015);
      expect(Math.abs(quick.columnDensity / vapour.middle.columnDensity - 1)).toBeLessThan(0.01);
      expect(quick.height).toBeCloseTo((quick.deflection ?? 0) * Math.abs(curve.scale.perRadian), 12);
    },
  );

  it("gives the same whatever was asked before", () => {
    const quick = quickForecast();
    const first = quick(setupOf("strontium"));
    quick(setupOf("strontium", "vessel.bottom=600 degC"));
    quick(setupOf("strontium", "path.plumbSlit=30 um"));
    expect(quick(setupOf("strontium"))).toEqual(first);
  });

  it("has no line and no pair where there is none", () => {
    const none = quickForecast()(setupOf("strontium", "path.centreWavelength=550 nm"));
    expect([none.line, none.height, none.pairTimes]).toEqual([null, null, null]);
    const single = quickForecast()(setupOf("strontium"));
    expect(single.pairTimes).toBeNull();
    expect(single.height).toBeGreaterThan(0);
  });

  it("knowledge acts as physics says: height ∝ √(f N/Γ), gap ∝ √(f N Γ) in the wing, by the gas where it rules", () => {
    const setup = setupOf("strontium", "medium.gasWidth=2 GHz");
    const quick = quickForecast();
    const base = quick(setup);
    const ratio = (key: "halfGap" | "deflection", knowledge: object): number =>
      (quick(setup, knowledge)[key] ?? 0) / (base[key] ?? 1);
    // Gas rules the width (2 GHz against some 0.1 GHz): half-gap and edge deflection follow the square-root law.
    expect(ratio("halfGap", { strength: 1.21 })).toBeCloseTo(1.1, 2);
    expect(ratio("halfGap", { pressure: 1.21 })).toBeCloseTo(1.1, 1);
    expect(ratio("halfGap", { gasWidth: 1.21 })).toBeCloseTo(1.1, 1);
    expect(ratio("deflection", { gasWidth: 1.21 })).toBeCloseTo(1 / 1.1, 1);
    expect(quick(setup, { pressure: 1.1 }).density / base.density).toBeCloseTo(1.1, 12);
  });
});

describe("numbers by path", () => {
  it("are read and replaced where the checked setup keeps them", () => {
    const setup = setupOf("potassium-grating");
    for (const path of [
      "vessel.bottom",
      "vessel.hotStrip",
      "path.disperser.grooves",
      "camera.pixel",
      "vessel.windowDiameter",
      "camera.columns",
    ]) {
      const value = numberAt(setup, path);
      const changed = withNumbers(setup, new Map([[path, value * 1.001]]));
      expect(numberAt(changed, path)).toBe(path === "camera.columns" ? 1281 : value * 1.001);
      expect(numberAt(setup, path)).toBe(value);
    }
  });

  it("are the same as through text", () => {
    expect(withNumbers(setupOf("strontium"), new Map([["vessel.bottom", 900]]))).toEqual(
      setupOf("strontium", "vessel.bottom=900 K"),
    );
  });

  it("are refused where they are no numbers, out of range, or not stated", () => {
    const setup = setupOf("strontium");
    expect(() => numberAt(setup, "medium.gasWidth")).toThrow(Refusal);
    expect(() => withNumbers(setup, new Map([["vessel.bottom", 5000]]))).toThrow(
      /vessel\.bottom.*200 to 2000 K/,
    );
    expect(() => withNumbers(setup, new Map([["medium.element", 1]]))).toThrow(/medium\.element/);
  });
});
