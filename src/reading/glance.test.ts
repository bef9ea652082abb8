import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import {
  type Forecast,
  forecast,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  type Setup,
} from "../setup/index.ts";
import { columnKernel } from "./glance-model.ts";
import { prepareGlance } from "./glance.ts";

const example = (name: string, changes: readonly string[]): Setup =>
  parseSetup(
    overrideSetup(
      parseJsonObject(
        readFileSync(fileURLToPath(new URL(`../../examples/${name}.json`, import.meta.url)), "utf8"),
        name,
      ),
      [...changes],
    ),
  );

/** A webcam of 640 × 480 whose 8 bits are coded as screens want them. */
const WEBCAM = [
  "camera.pixel=4.8 um",
  "camera.columns=640",
  "camera.rows=480",
  "camera.bitDepth=8",
  "camera.gamma=2.2",
  "camera.rate=480000 /s",
  "camera.fullWell=60000",
];

/** Truth of a forecast is what its vapour stage computed, not what any reading made of it. */
const off = (got: number, made: Forecast, what: "columnGradient" | "columnDensity"): number =>
  Math.abs(got / made.vapour.middle[what] - 1);

describe("the quick reading", () => {
  for (const bottom of ["270 degC", "285 degC", "295 degC"]) {
    it(`reads an 8-bit picture of a tube at ${bottom} with the setup of another temperature`, () => {
      const made = forecast(example("blue-twins", [...WEBCAM, `vessel.bottom=${bottom}`]));
      const setup = example("blue-twins", WEBCAM);
      const cold = forecast(setup, { cold: true }).frame;
      const glance = prepareGlance(setup, cold)(made.frame);
      expect(off(glance.columnGradient, made, "columnGradient")).toBeLessThan(0.03);
      expect(off(glance.columnDensity, made, "columnDensity")).toBeLessThan(0.03);
      expect(glance.misfit).toBeLessThan(0.3);
      expect(glance.lines).toHaveLength(2);
    });
  }

  it("reads without a cold frame to a tenth, and a single line", () => {
    const made = forecast(example("blue-twins", WEBCAM));
    const without = prepareGlance(made.setup)(made.frame);
    expect(off(without.columnGradient, made, "columnGradient")).toBeLessThan(0.05);
    expect(off(without.columnDensity, made, "columnDensity")).toBeLessThan(0.1);
    const single = forecast(example("strontium", []));
    const glance = prepareGlance(single.setup, forecast(single.setup, { cold: true }).frame)(single.frame);
    expect(off(glance.columnGradient, single, "columnGradient")).toBeLessThan(0.03);
    expect(off(glance.columnDensity, single, "columnDensity")).toBeLessThan(0.05);
    expect(glance.lines).toHaveLength(1);
  });

  it("gives the same numbers for the same frame, whatever came before", () => {
    const setup = example("blue-twins", WEBCAM);
    const [a, b] = ["270 degC", "295 degC"].map(
      (bottom) => forecast(example("blue-twins", [...WEBCAM, `vessel.bottom=${bottom}`])).frame,
    );
    const cold = forecast(setup, { cold: true }).frame;
    const read = prepareGlance(setup, cold);
    const first = read(a);
    read(b);
    expect(read(a)).toEqual(first);
    expect(() => read(cold)).toThrow(/gap/);
  });

  it("spreads light over its neighbours without losing any", () => {
    for (const [width, sigma] of [
      [0.3, 0.6],
      [3.1, 0.6],
      [2, 2.5],
    ] as const) {
      const kernel = columnKernel(width, sigma);
      expect(kernel.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 12);
      const half = (kernel.length - 1) / 2;
      const variance = kernel.reduce((sum, w, k) => sum + w * (k - half) ** 2, 0);
      // Box, Gaussian and the pixel itself add their variances.
      expect(variance).toBeCloseTo(width ** 2 / 12 + sigma ** 2 + 1 / 12, 1);
    }
  });
});
