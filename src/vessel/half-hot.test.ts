/** The half-hot tube against its closed form, and what must hold for any tube. */
import { describe, expect, it } from "vitest";
import { BOLTZMANN } from "../reference/index.ts";
import type { VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import { vesselNumbers } from "./numbers.ts";
import { saturationPressure } from "../medium/pressure.ts";
import { solveVapour } from "./solve.ts";

/** Nearly isothermal, very dilute: temperature and Stefan flow drop out, and N obeys Laplace's equation. */
const dilute: VesselInput = {
  element: "K",
  bore: 0.04,
  heatedLength: 0.4,
  length: 0.8,
  wall: { kind: "measured", bottom: 400, top: 399, ends: 399, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 1e5,
};

const saturatedDensity = (t: number): number => saturationPressure("K", t) / (BOLTZMANN * t);

describe("half-hot cylinder", () => {
  it("has N = N_top + (N_bottom − N_top) (1/2 − (2/π) arctan(y/R)) at mid-length", () => {
    const field = solveVapour(dilute);
    const bottom = saturatedDensity(400);
    const top = saturatedDensity(399);
    for (const share of [-0.6, -0.3, 0, 0.2, 0.5]) {
      const numbers = vesselNumbers(field, share * 0.02);
      const expected = top + (bottom - top) * (0.5 - (2 / Math.PI) * Math.atan(share));
      expect(Math.abs(numbers.density - expected)).toBeLessThan(0.003 * (bottom - top));
      const slope = ((bottom - top) * -2) / Math.PI / 0.02 / (1 + share * share);
      expect(Math.abs(numbers.densityGradient / slope - 1)).toBeLessThan(0.01);
    }
  });

  it("has a column gradient of −2 ΔN L/(πR) on the axis, smooth in height", () => {
    const field = solveVapour(dilute);
    const heights = Float64Array.from({ length: 21 }, (_, i) => (i - 10) * 0.0011);
    const columns = beamColumns(field, heights);
    const scale = (-2 * (saturatedDensity(400) - saturatedDensity(399)) * 0.4) / (Math.PI * 0.02);
    heights.forEach((y, i) => {
      const expected = scale / (1 + (y / 0.02) ** 2);
      expect(Math.abs(columns.columnGradient[i] / expected - 1)).toBeLessThan(0.01);
    });
  });

  it("matches the closed form beside the axis: N ∝ ½ − (1/π) arctan(2yR/(R² − x² − y²))", () => {
    const field = solveVapour(dilute);
    const r = 0.02;
    const scale = (saturatedDensity(400) - saturatedDensity(399)) * 0.4;
    for (const [x, y] of [
      [0.004, 0],
      [0.008, 0.005],
      [-0.008, -0.006],
      [0.0005, 0.0003],
    ]) {
      const columns = beamColumns(field, Float64Array.of(y), { x });
      const d = r * r - x * x - y * y;
      const u = (2 * y * r) / d;
      const slope = (-(1 / Math.PI) / (1 + u * u)) * ((2 * r * d + 4 * y * y * r) / (d * d));
      expect(Math.abs(columns.columnGradient[0] / (scale * slope) - 1)).toBeLessThan(0.01);
    }
  });

  it("is held at saturation by fog, if one asks for that end of the bracket", () => {
    const foggy = solveVapour({ ...dilute, wall: { ...dilute.wall, bottom: 500, top: 330, ends: 330 } });
    const axis = Float64Array.of(-0.004, 0, 0.004);
    const clear = beamColumns(foggy, axis);
    const fog = beamColumns(foggy, axis, { fog: "saturated" });
    for (let i = 0; i < 3; i++) {
      expect(fog.columnDensity[i]).toBeLessThan(clear.columnDensity[i]);
      expect(fog.supersaturation[i]).toBeCloseTo(1, 9);
      expect(clear.supersaturation[i]).toBeGreaterThan(5);
    }
  });
});
