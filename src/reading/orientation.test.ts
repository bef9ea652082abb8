/** Pictures stored the wrong way round are never read silently. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Frame } from "../picture/api.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { readPicture } from "./index.ts";

const text = readFileSync(new URL("../../examples/blue-twins.json", import.meta.url), "utf8");
// Pixels of twice the pitch: the same picture at a quarter of the work; rolled, so that signs of angles show.
const coarse = ["camera.columns=640", "camera.rows=400", "camera.pixel=4.8 um", "path.cameraRoll=6 mrad"];
const setup = parseSetup(overrideSetup(parseJsonObject(text, "blue-twins.json"), coarse));
const { frame, vapour } = forecast(setup);
const cold = forecast(setup, { cold: true }).frame;

function turned(from: Frame, at: (column: number, row: number) => readonly [number, number]): Frame {
  const { columns, rows } = from;
  const samples = from.samples.slice();
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      const [column, row] = at(c, r);
      samples[r * columns + c] = from.samples[row * columns + column];
    }
  return { ...from, samples };
}

const mirrored = (f: Frame): Frame => turned(f, (c, r) => [f.columns - 1 - c, r]);
const overturned = (f: Frame): Frame => turned(f, (c, r) => [c, f.rows - 1 - r]);

describe("a picture stored the wrong way round", () => {
  const straight = readPicture({ hot: frame, cold, setup });

  it("as it should be: no word about it", () => {
    expect(straight.orientation).toBe("as stored");
    expect(straight.warnings.join(" ")).not.toMatch(/mirrored|upside down|pixel pitch/);
    expect(straight.columnGradient.value).toBeLessThan(0);
  });

  it("mirrored: found, said, the same answers, columns of the stored picture", () => {
    const reading = readPicture({ hot: mirrored(frame), cold: mirrored(cold), setup });
    expect(reading.orientation).toBe("mirrored");
    expect(reading.warnings[0]).toMatch(/stored mirrored/);
    expect(Math.abs(reading.columnGradient.value / vapour.middle.columnGradient - 1)).toBeLessThan(0.01);
    expect(Math.abs(reading.columnDensity.value / vapour.middle.columnDensity - 1)).toBeLessThan(0.03);
    expect(reading.tilt.value).toBeCloseTo(-straight.tilt.value, 4);
    expect(Math.abs(straight.tilt.value)).toBeGreaterThan(0.004);
    reading.lineColumns.forEach(({ column }, k) => {
      expect(Math.abs(640 - column - straight.lineColumns[k].column)).toBeLessThan(0.01);
    });
    const onTheLeft = reading.trace[0];
    expect(onTheLeft.column).toBeLessThan(20);
  });

  it("upside down: said, gradient with the sign that the picture shows", () => {
    const reading = readPicture({ hot: overturned(frame), cold: overturned(cold), setup });
    expect(reading.orientation).toBe("as stored");
    expect(reading.columnGradient.value).toBeGreaterThan(0);
    expect(reading.warnings.join(" ")).toMatch(
      /bends the other way than the setup expects: upside down, or hot above/,
    );
  });

  it("turned by half a turn: both are said", () => {
    const reading = readPicture({
      hot: overturned(mirrored(frame)),
      cold: overturned(mirrored(cold)),
      setup,
    });
    expect(reading.orientation).toBe("mirrored");
    expect(reading.warnings.join(" ")).toMatch(/upside down/);
  });

  it("of another size than the setup's camera: both sizes are said", () => {
    const other = { ...setup, camera: { ...setup.camera, columns: 1280, rows: 800 } };
    const reading = readPicture({ hot: frame, cold, setup: other });
    expect(reading.warnings.join(" ")).toMatch(
      /640 × 400 pixels, the setup's camera 1280 × 800: pixel pitch/,
    );
  });
});
