/**
 * A small picture of our own forecast, pixels binned three by three: the answers, what follows from them, and the bootstrap.
 * Difficult pictures are the affair of `bench/campaign/reading-errors.ts`.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expose } from "../picture/index.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  type Setup,
  vapourStage,
} from "../setup/index.ts";
import { bootstrapReading, readPicture } from "./index.ts";

const COLUMNS = 300;
const ROWS = 180;
const EXAMPLE = new URL("../../examples/potassium-grating.json", import.meta.url);
const whole = parseSetup(parseJsonObject(readFileSync(EXAMPLE, "utf8"), "potassium-grating"));
const setup: Setup = {
  ...whole,
  camera: {
    ...whole.camera,
    columns: COLUMNS,
    rows: ROWS,
    pixel: 3 * whole.camera.pixel,
    blackLevel: 0.02,
  },
};
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const hot = pictureStage(setup, curve).light.slice();
const cold = pictureStage(setup, coldCurve(curve)).light.slice();

function errors(reading: ReturnType<typeof readPicture>): { gradient: number; density: number } {
  return {
    gradient: Math.abs(reading.columnGradient.value / vapour.middle.columnGradient - 1),
    density: Math.abs(reading.columnDensity.value / vapour.middle.columnDensity - 1),
  };
}

describe("a small picture", () => {
  const plain = readPicture({
    hot: expose(hot, setup.camera, 1),
    cold: expose(cold, setup.camera, 2),
    setup,
  });

  it("plain: within 1 % and 2 %, nothing left out, the zero between the lines passes", () => {
    const { gradient, density } = errors(plain);
    expect(gradient).toBeLessThan(0.01);
    expect(density).toBeLessThan(0.02);
    expect(plain.warnings.join()).not.toMatch(/smoke/);
    expect(plain.zeroBetweenLines?.pass).toBe(true);
  });

  it("what follows from the answers goes with them", () => {
    const { derived, columnDensity, columnGradient } = plain;
    const { length } = { length: columnDensity.value / derived.density.value };
    // The vapour's tails make it longer than the heated length of 300 mm, by less than a third.
    expect(length).toBeGreaterThan(0.3);
    expect(length).toBeLessThan(0.4);
    // A wedge as dense bends by (n − 1)·tan A: tan A = |G|/N.
    expect(Math.tan(derived.prismAngle.value)).toBeCloseTo(
      Math.abs(columnGradient.value) / derived.density.value,
      12,
    );
    // Colder than the metal at 240 °C, hotter than the top at 150 °C.
    expect(derived.effectiveTemperature?.value).toBeGreaterThan(423);
    expect(derived.effectiveTemperature?.value).toBeLessThan(513);
    expect(derived.oscillatorCurve.pValue).toBeGreaterThan(1e-4);
    // Beyond the blue side of the shorter line n < 1, and only there and on the other lines' blue sides.
    const above = derived.phase.filter((point) => point.aboveLight);
    expect(above.length).toBeGreaterThan(5);
    for (const point of above) expect(point.velocity).toBeGreaterThan(1);
  });

  it("bootstrap: the repeats scatter as claimed", () => {
    const lines = bootstrapReading(
      { hot: expose(hot, setup.camera, 1), cold: expose(cold, setup.camera, 2), setup },
      24,
      7,
    );
    const gradient = lines.find((line) => line.name === "column gradient");
    // A standard deviation of 24 repeats is known to 15 %: three times that.
    expect(Math.abs((gradient?.scatter ?? 0) / (gradient?.claimed ?? 1) - 1)).toBeLessThan(0.45);
    expect(() => bootstrapReading({ hot: expose(hot, setup.camera, 1), setup }, 3, 7)).toThrow(
      "bootstrap: expected a whole number of repeats, 10 to 10000, received 3.",
    );
  });
});
