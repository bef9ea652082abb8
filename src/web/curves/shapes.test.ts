// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { SightCurve } from "../worker/protocol.ts";
import { groupVelocity, powersOfTen } from "./shapes.ts";

describe("powersOfTen", () => {
  it("leaves out what is zero and spans whole powers", () => {
    const { y, axis } = powersOfTen(Float64Array.of(0, 0.02, 30, 1000));
    expect(y[0]).toBeNaN();
    expect(y[2]).toBeCloseTo(Math.log10(30), 12);
    expect([axis.from, axis.to]).toEqual([-2, 4]);
  });
  it("has an axis where nothing absorbs", () => {
    const { axis } = powersOfTen(new Float64Array(3));
    expect(axis.to).toBeGreaterThan(axis.from);
  });
});

describe("groupVelocity", () => {
  it("draws it only where a third of the light is left", () => {
    const { y, least, axis } = groupVelocity({
      groupIndex: Float64Array.of(1.25, -4, 2),
      transmission: Float64Array.of(0.9, 0.01, 0.5),
    } as SightCurve);
    expect(Array.from(y)).toEqual([0.8, Number.NaN, 0.5]);
    expect(least).toBe(0.5);
    expect(axis.from).toBeLessThan(0.5);
    expect(axis.to).toBeGreaterThan(1);
  });
});
