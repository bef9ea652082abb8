/** The way back closes on the way out: our own forecast, read, returns the columns that went into it. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expose, renderLamp } from "../picture/index.ts";
import { forecast, parseJsonObject, parseSetup, type Setup } from "../setup/index.ts";
import { lampLinesFromNames, readPicture } from "./index.ts";

function example(name: string): Setup {
  const text = readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8");
  return parseSetup(parseJsonObject(text, name));
}

function circle(setup: Setup, lampLines: readonly number[]) {
  const { vapour, curve, frame } = forecast(setup);
  const lines = lampLines.map((wavelength) => ({ wavelength, intensity: 0.8 }));
  const reading = readPicture({
    hot: frame,
    cold: forecast(setup, { cold: true, previous: vapour.field }).frame,
    ...(lines.length < 2
      ? {}
      : {
          lamp: expose(renderLamp(lines, curve.map, curve.scale, setup.camera), setup.camera, 5),
          lampLines,
        }),
    setup,
  });
  const { columnGradient, columnDensity } = vapour.middle;
  return {
    reading,
    gradient: reading.columnGradient.value / columnGradient - 1,
    density: reading.columnDensity.value / columnDensity - 1,
    zero: curve.zeroBetweenLines,
  };
}

describe("forecast, then read", () => {
  it("blue twins: gradient within 1 %, density within 3 %, strength ratio and zero between the lines", () => {
    const setup = example("blue-twins");
    const { reading, gradient, density, zero } = circle(setup, []);
    expect(Math.abs(gradient)).toBeLessThan(0.01);
    expect(Math.abs(density)).toBeLessThan(0.03);
    expect(Math.abs((reading.fRatio?.value ?? 0) / (0.01099 / 0.00256) - 1)).toBeLessThan(0.01);
    expect(zero).not.toBeNull();
    expect(Math.abs((reading.zeroBetweenLines?.measured.value ?? 0) - (zero ?? 0))).toBeLessThan(5e-12);
    expect(reading.columnGradient.value).toBeLessThan(0);
    const { published, standardUncertainty, deviation } = reading.derived.publishedRatio ?? {};
    // Matrix elements 0.57417(57) and 0.27810(45) of arXiv:1904.06362: strengths go with their squares.
    const share = 2 * Math.hypot(0.00057 / 0.57417, 0.00045 / 0.2781);
    expect(published).toBeCloseTo(0.01099 / 0.00256, 12);
    expect((standardUncertainty ?? 0) / ((0.01099 / 0.00256) * share)).toBeCloseTo(1, 2);
    const read = reading.fRatio ?? { value: Number.NaN, combinedUncertainty: Number.NaN };
    const apart = read.value - 0.01099 / 0.00256;
    expect(deviation).toBeCloseTo(
      apart / Math.hypot(read.combinedUncertainty, (0.01099 / 0.00256) * share),
      2,
    );
  });

  it("strontium, one line, with a cadmium and helium lamp that has two lines in view", () => {
    const setup = example("strontium");
    const lines = lampLinesFromNames("Cd").filter((w) => w > 460e-9 && w < 472e-9);
    expect(lines.length).toBeGreaterThanOrEqual(1);
    const { reading, gradient, density } = circle(
      setup,
      lampLinesFromNames("467.946 nm vacuum, 471.446 nm vacuum"),
    );
    expect(Math.abs(gradient)).toBeLessThan(0.01);
    expect(Math.abs(density)).toBeLessThan(0.03);
    expect(reading.fRatio).toBeNull();
    expect(reading.lineSeparation).toBeNull();
  });
});
