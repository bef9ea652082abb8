/** Sensitivities, the advice on the top, exports and the series through a warm-up. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/pressure.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { GridSize, VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import { crossSectionCsv, fieldNpy, longSectionCsv, npyBytes } from "./export.ts";
import { sensitivities } from "./sensitivity.ts";
import { vapourSeries } from "./series.ts";
import { solveVapour } from "./solve.ts";
import { topAdvice } from "./top-advice.ts";
import { warmUp } from "./warm-up.ts";

const strontium: VesselInput = {
  element: "Sr",
  bore: 0.04,
  heatedLength: 0.25,
  length: 0.6,
  wall: { kind: "measured", bottom: 883, top: 728, ends: 350, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 2000,
};
const small: GridSize = { radial: 8, angular: 16, axial: 16 };

describe("sensitivities", () => {
  const found = sensitivities(strontium, 0, small);
  const of = (lever: string) => found.find((each) => each.lever === lever)!;

  it("puts the bottom first: the gradient follows the saturated density, 2 to 3 % per kelvin", () => {
    const n = (t: number): number => saturationPressure("Sr", t) / (BOLTZMANN * t);
    const expected = (n(884) - n(882)) / 2 / n(883);
    expect(Math.abs(of("bottom").relativeGradient / expected - 1)).toBeLessThan(0.1);
    for (const other of ["top", "ends"]) {
      expect(Math.abs(of(other).relativeGradient)).toBeLessThan(0.3 * of("bottom").relativeGradient);
    }
  });

  it("knows that the gradient goes nearly as the heated length and against the bore", () => {
    // Exactly so in a uniform gas (G = −2 ΔN L/πR); here the ends, a bore long, bend the law by a tenth.
    expect(Math.abs(of("heatedLength").relativeGradient * 0.25 - 1)).toBeLessThan(0.15);
    expect(Math.abs(of("bore").relativeGradient * 0.04 + 1)).toBeLessThan(0.15);
  });

  it("predicts what a change of two kelvin does", () => {
    const changed = solveVapour({ ...strontium, wall: { ...strontium.wall, bottom: 885 } }, small);
    const base = solveVapour(strontium, small);
    const axis = Float64Array.of(0);
    const difference =
      beamColumns(changed, axis).columnGradient[0] - beamColumns(base, axis).columnGradient[0];
    expect(Math.abs((2 * of("bottom").gradient) / difference - 1)).toBeLessThan(0.03);
  });
});

describe("advice on the top", () => {
  it("finds the warmest top that keeps 97 % of the gradient, clear of fog", () => {
    const advice = topAdvice(strontium, 0, small);
    expect(advice.difference).toBeGreaterThan(60);
    expect(advice.difference).toBeLessThan(150);
    expect(advice.clear).toBe(true);
    const at = (top: number): number =>
      beamColumns(solveVapour({ ...strontium, wall: { ...strontium.wall, top } }, small), Float64Array.of(0))
        .columnGradient[0];
    const largest = Math.min(...advice.rows.map((row) => row.columnGradient));
    expect(at(advice.warmestTop) / largest).toBeCloseTo(0.97, 2);
    expect(at(advice.warmestTop + 15) / largest).toBeLessThan(0.965);
    const fog = advice.rows.map((row) => row.supersaturation);
    for (let i = 1; i < fog.length; i++) expect(fog[i]).toBeGreaterThan(fog[i - 1]);
  });
});

describe("export", () => {
  const field = solveVapour(strontium, small);

  it("writes .npy bytes that start as the format says", () => {
    const bytes = npyBytes(Float64Array.of(1, 2, 3), [3]);
    expect([...bytes.subarray(0, 8)]).toEqual([0x93, 78, 85, 77, 80, 89, 1, 0]);
    const length = bytes[8] + 256 * bytes[9];
    expect((10 + length) % 64).toBe(0);
    expect(new TextDecoder().decode(bytes.subarray(10, 10 + length))).toMatch(
      /^\{'descr': '<f8', 'fortran_order': False, 'shape': \(3,\), \} *\n$/,
    );
    expect(new DataView(bytes.buffer).getFloat64(10 + length + 8, true)).toBe(2);
    expect(() => npyBytes(Float64Array.of(1), [2])).toThrow("shape");
  });

  const numpy = spawnSync("python3", ["-c", "import numpy"]).status === 0;
  // The format itself is tested above; reading it back with numpy needs numpy.
  it.skipIf(!numpy)("is read back by numpy with its shape and sum", () => {
    const folder = mkdtempSync(join(tmpdir(), "field-"));
    try {
      const file = join(folder, "density.npy");
      writeFileSync(file, fieldNpy(field, "density"));
      const script = "import numpy,sys; a=numpy.load(sys.argv[1]); print(a.shape, repr(float(a.sum())))";
      const { stdout } = spawnSync("python3", ["-c", script, file], { encoding: "utf8" });
      expect(stdout).toContain("(16, 16, 8)");
      const sum = field.density.reduce((a, b) => a + b, 0);
      expect(
        Math.abs(
          Number(
            stdout
              .trim()
              .split(") ")[1]
              .replace(/[^0-9.e+-]/g, ""),
          ) /
            sum -
            1,
        ),
      ).toBeLessThan(1e-12);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("writes sections as text with the cell's own numbers", () => {
    const cross = crossSectionCsv(field).trim().split("\n");
    expect(cross.length).toBe(1 + 16 * 8);
    expect(cross[0]).toBe("x_m,y_m,gas_temperature_K,mole_fraction,density_m-3");
    const first = cross[1].split(",").map(Number);
    expect(first[0]).toBeCloseTo(0, 12);
    expect(first[1]).toBeCloseTo(-0.00125, 9);
    expect(first[4] / field.density[8 * 16 * 8]).toBeCloseTo(1, 7);
    expect(longSectionCsv(field).trim().split("\n").length).toBe(1 + 16 * 16);
  });
});

describe("series through the warm-up", () => {
  it("grows from nothing, and its gradient points down", () => {
    const run = warmUp(
      {
        bore: 0.04,
        heatedLength: 0.4,
        length: 0.8,
        material: "steel-304",
        thickness: 0.0015,
        hotStrip: 2.1,
        heater: { kind: "electric" },
        power: 120,
        insulation: { material: "ceramic-fibre", thickness: 0.02 },
        topCooling: { kind: "still-air" },
        endCooling: { kind: "still-air" },
        room: 293,
      },
      { duration: 3600, keep: [300, 1200, 3600] },
    );
    const series = vapourSeries(
      {
        element: "K",
        bore: 0.04,
        heatedLength: 0.4,
        length: 0.8,
        gas: "Ar",
        gasPressure: 2000,
        gasFilledAt: 293,
      },
      run,
      0,
      small,
    );
    expect(series.columnDensity[0]).toBeLessThan(series.columnDensity[1]);
    expect(series.columnDensity[1]).toBeLessThan(series.columnDensity[2]);
    expect(series.pressure[2]).toBeGreaterThan(series.pressure[0]);
    for (const gradient of series.columnGradient) expect(gradient).toBeLessThan(0);
  });
});
