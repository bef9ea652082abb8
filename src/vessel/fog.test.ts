import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { saturationPressure } from "../medium/pressure.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import { fogBand, fogChance } from "./fog-band.ts";
import { fogLayer } from "./fog-layer.ts";
import { vesselNumbers } from "./numbers.ts";
import { solveVapour } from "./solve.ts";

const GRID = { radial: 12, angular: 16, axial: 16 };

function tube(top: number): VesselInput {
  return {
    element: "Cs",
    bore: 0.04,
    heatedLength: 0.4,
    length: 0.8,
    wall: { kind: "measured", bottom: 558, top, ends: 333, hotStrip: Math.PI },
    gas: "Ar",
    gasPressure: 4000,
  };
}

describe("the band of fog", () => {
  it("holds the value without fog and the saturated one, and opens as the top gets colder", () => {
    const widths = [500, 430, 350].map((top) => {
      const field = solveVapour(tube(top), GRID);
      const linear = beamColumns(field, Float64Array.of(-0.004, 0, 0.004));
      const band = fogBand(field, linear, vesselNumbers(field).midSupersaturation);
      for (let i = 0; i < 3; i++) {
        const between = (low: number, value: number, high: number): void => {
          expect(low).toBeLessThanOrEqual(value);
          expect(value).toBeLessThanOrEqual(high);
        };
        between(band.columnDensity.low[i], linear.columnDensity[i], band.columnDensity.high[i]);
        between(band.columnDensity.low[i], band.saturated.columnDensity[i], band.columnDensity.high[i]);
        between(band.columnGradient.low[i], linear.columnGradient[i], band.columnGradient.high[i]);
        between(band.columnGradient.low[i], band.saturated.columnGradient[i], band.columnGradient.high[i]);
      }
      return band.columnDensity.low[1] / band.columnDensity.high[1];
    });
    expect(widths[0]).toBeGreaterThan(0.6);
    expect(widths[1]).toBeLessThan(widths[0]);
    expect(widths[2]).toBeLessThan(0.1);
  });

  it("says how likely fog is", () => {
    expect([1.5, 3, 8].map(fogChance)).toEqual(["none", "possible", "likely"]);
  });
});

describe("the finer model with drops", () => {
  const layer = { element: "Cs", gas: "Ar", gasPressure: 2000, bore: 0.04, bottom: 558, duration: 6 };

  it("is linear diffusion below its threshold: p a function of the harmonic, exact at both plates", () => {
    const { density, linear, fogged, height } = fogLayer({ ...layer, top: 500, threshold: 5 });
    expect(fogged).toBe(false);
    expect(density).toEqual(linear);
    // Closed form: p falls with ∫ κ T^(1−m) dT; with κ ∝ T^a it is linear in T^(2+a−m). Checked here at the plates.
    const wall = 1.5 * linear[0] - 0.5 * linear[1];
    expect(Math.abs(wall / (saturationPressure("Cs", 558) / (BOLTZMANN * 558)) - 1)).toBeLessThan(2e-3);
    expect(height[height.length - 1]).toBeLessThan(0.25 * Math.PI * 0.04);
  });

  it.each([
    ["Cs", 558, 130, 2],
    ["Cs", 558, 250, 5],
    ["Na", 593, 130, 5],
    ["K", 488, 130, 2],
    ["Sr", 883, 250, 5],
  ])(
    "%s at %i K, top %i K colder, threshold %i: density and gradient lie in the band",
    (element, bottom, d, threshold) => {
      const found = fogLayer({ ...layer, element, bottom, top: bottom - d, threshold });
      const { height, density, linear, saturated } = found;
      const n = height.length;
      expect(found.fogged).toBe(true);
      const middle = (a: Float64Array): number => 0.5 * (a[n / 2 - 1] + a[n / 2]);
      const slope = (a: Float64Array): number => a[n / 2 + 3] - a[n / 2 - 4];
      expect(middle(density)).toBeLessThanOrEqual(middle(linear) * (1 + 1e-9));
      expect(middle(density)).toBeGreaterThan(middle(saturated));
      const wall = 1.5 * linear[0] - 0.5 * linear[1];
      const steepest = (slope(linear) * (wall - middle(saturated))) / (wall - middle(linear));
      const ends = [slope(linear), slope(saturated), steepest];
      expect(slope(density)).toBeGreaterThanOrEqual(1.01 * Math.min(...ends));
      expect(slope(density)).toBeLessThanOrEqual(0.99 * Math.max(...ends));
    },
  );

  it("refuses a top that is not colder, and a threshold of 1", () => {
    expect(() => fogLayer({ ...layer, top: 560, threshold: 5 })).toThrow(Refusal);
    expect(() => fogLayer({ ...layer, top: 500, threshold: 1 })).toThrow(Refusal);
  });
});
