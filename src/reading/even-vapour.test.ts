/** Vapour that is the same all over, as in a sealed cell: it absorbs and does not bend. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../setup/index.ts";
import { adoptReading, diagnose, readPicture } from "./index.ts";

const EXAMPLE = new URL("../../examples/cell-sodium.json", import.meta.url);
const whole = parseJsonObject(readFileSync(EXAMPLE, "utf8"), "cell-sodium");
// Pixels binned two by two; the light stands within 200 of the example's 800 rows.
const camera = { ...(whole["camera"] as object), pixel: "4.8 um", columns: 320, rows: 140 };
const document = { ...whole, camera };
const setup = parseSetup(document);
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const { frame: hot } = pictureStage(setup, curve);
const { columnDensity } = vapour.middle;

describe("the forecast of a sealed cell", () => {
  const reading = readPicture({ hot, setup });

  it("reads as good: density times length within its uncertainty, and says that nothing bends", () => {
    expect(vapour.middle.columnGradient).toBe(0);
    expect(reading.verdict.code).toBe("good");
    const { value, combinedUncertainty } = reading.columnDensity;
    expect(Math.abs(value - columnDensity)).toBeLessThan(combinedUncertainty);
    expect(combinedUncertainty / value).toBeLessThan(0.06);
    const { density } = reading.derived;
    expect(Math.abs(density.value * 0.1 - columnDensity)).toBeLessThan(density.combinedUncertainty * 0.1);
    expect(reading.warnings.join(" ")).toMatch(/No gradient is seen/);
    expect(reading.warnings.join(" ")).not.toMatch(/40 %|other way/);
  });

  it("tells a limit of the gradient, nothing of its shape, and no index from heights", () => {
    const { columnGradient, gradientChange, derived } = reading;
    expect(Math.abs(columnGradient.value)).toBeLessThan(3 * columnGradient.standardUncertainty);
    expect(columnGradient.standardUncertainty).toBeGreaterThan(0);
    expect(gradientChange.value).toBe(0);
    // evenly between −0.6 and 0.6
    expect(gradientChange.combinedUncertainty).toBeCloseTo(1.2 / Math.sqrt(12), 9);
    expect(derived.phase).toEqual([]);
    expect(derived.prismAngle.standardUncertainty).toBeGreaterThan(0);
    expect(reading.parameters.map(({ name }) => name)).not.toContain("gradient change");
    expect(reading.covariance).toHaveLength(reading.parameters.length ** 2);
  });

  it("is what its setup foretells", () => {
    const cold = pictureStage(setup, coldCurve(curve)).frame;
    expect(diagnose({ hot, cold, setup }, vapour).causes[0]?.cause).toBe("as-predicted");
  });

  it("adopted, sets the side arm and no walls", () => {
    const dense = { ...reading.columnDensity, value: 1.5 * columnDensity };
    const { document: adopted, changes, left } = adoptReading(document, { ...reading, columnDensity: dense });
    const paths = changes.map(({ path }) => path);
    expect(paths).toContain("vessel.sideArm");
    expect(paths.join()).not.toMatch(/vessel\.(bottom|top|hotStrip)|path\.inverted/);
    expect(left).toEqual([]);
    expect(vapourStage(parseSetup(adopted)).middle.columnDensity / dense.value).toBeCloseTo(1, 3);
  });
});
