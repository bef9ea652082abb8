// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { QuantityField } from "../../setup/field-kinds.ts";
import { fieldAt } from "../../setup/fields.ts";
import { holds, reachOf, shareOf, valueAtShare } from "./reach.ts";
import { dragged, shown, typed, unitOf } from "./written.ts";

const field = (path: string): QuantityField => {
  const found = fieldAt(path);
  if (found?.kind !== "quantity") throw new Error(path);
  return found;
};

describe("written quantities", () => {
  it("shows the unit in which a value was written", () => {
    expect(shown(field("vessel.bottom"), "285 degC")).toBe("285\u202f°C");
    expect(shown(field("vessel.gasPressure"), "40 Torr")).toBe("40\u202fTorr");
    expect(shown(field("path.levelSlit"), "30 um")).toBe("30\u202fµm");
    expect(shown(field("vessel.bottom"), "285 mm")).toBe("285 mm");
  });

  it("gives a bare number the unit that stood there, and leaves a written unit alone", () => {
    expect(typed(field("vessel.gasPressure"), "25", "40 Torr")).toBe("25 Torr");
    expect(typed(field("vessel.gasPressure"), " 33 mbar ", "40 Torr")).toBe("33 mbar");
    expect(typed(field("vessel.gasFilledAt"), "20", undefined)).toBe("20 degC");
    expect(unitOf("1.5e19 m-3")).toBe("m-3");
  });

  it("writes a dragged value back in the same unit", () => {
    const bottom = field("vessel.bottom");
    const reach = reachOf(bottom, 558.15);
    expect(dragged(bottom, reach, 0.5, "285 degC")).toBe("285 degC");
    expect(dragged(bottom, reach, 1, "285 degC")).toBe("385 degC");
    const gas = field("vessel.gasPressure");
    expect(dragged(gas, reachOf(gas, 5332.9), 0.5, "40 Torr")).toBe("40 Torr");
  });
});

describe("reach of a rule", () => {
  it("runs evenly in ratio for lengths and pressures, evenly in kelvin for temperatures", () => {
    const slit = reachOf(field("path.plumbSlit"), 15e-6);
    expect(slit.ratio).toBe(true);
    expect(valueAtShare(slit, shareOf(slit, 40e-6))).toBeCloseTo(40e-6, 12);
    const top = reachOf(field("vessel.top"), 428.15);
    expect([top.from, top.to]).toEqual([328.15, 528.15]);
  });

  it("never leaves the legal range", () => {
    const height = reachOf(field("path.beamHeight"), 0);
    expect(height.from).toBeLessThan(0);
    const cold = reachOf(field("vessel.ends"), 250);
    expect(cold.from).toBe(200);
    expect(holds(cold, 199)).toBe(false);
    const defocus = reachOf(field("path.defocus"), 0);
    expect(defocus.to).toBeGreaterThan(0);
  });
});
