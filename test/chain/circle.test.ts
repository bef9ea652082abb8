/** The circle closes: what a forecast puts into a picture, the reading gets out of it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readPicture } from "../../src/reading/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../../src/setup/index.ts";

const path = join(import.meta.dirname, "../../examples/blue-twins.json");
const demo = parseJsonObject(readFileSync(path, "utf8"), "blue-twins.json");
// Pixels of twice the pitch: the same picture at a quarter of the work.
const coarse = ["camera.columns=640", "camera.rows=400", "camera.pixel=4.8 um"];

it("reading the demo's own forecast returns its column gradient within 1 % and its column density within 3 %", () => {
  const setup = parseSetup(overrideSetup(demo, coarse));
  const hot = forecast(setup);
  const cold = forecast(parseSetup(overrideSetup(demo, [...coarse, "camera.seed=2"])), { cold: true });
  const reading = readPicture({ hot: hot.frame, cold: cold.frame, setup });
  const { columnGradient, columnDensity } = hot.vapour.middle;
  expect(columnGradient).toBeLessThan(0);
  expect(Math.abs(reading.columnGradient.value / columnGradient - 1)).toBeLessThan(0.01);
  expect(Math.abs(reading.columnDensity.value / columnDensity - 1)).toBeLessThan(0.03);
  // The strengths that went in: 0.01099 and 0.00256.
  expect(Math.abs((reading.fRatio?.value ?? 0) / (0.01099 / 0.00256) - 1)).toBeLessThan(0.01);
  expect(reading.lineColumns).toHaveLength(2);
  // The shorter wavelength is the stronger line and stands to the left.
  expect(reading.lineColumns[0].column).toBeLessThan(reading.lineColumns[1].column);
});
