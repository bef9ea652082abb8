import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { curvePoints, forecast, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { prepareHandMarks } from "./hand-marks.ts";

const text = readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8");
const document = parseJsonObject(text, "blue-twins.json");
const setup = parseSetup(document);
const made = forecast(setup);
const points = curvePoints(setup, made.curve);
/** Where the forward chain itself puts the curve, every so often and clear of the dark. */
const marks = Array.from(points.wavelength, (_, i) => i)
  .filter(
    (i) => i % 15 === 0 && points.transmission[i] > 0.9 && points.column[i] > 5 && points.column[i] < 1275,
  )
  .map((i) => ({ column: points.column[i], row: points.row[i] }));
const lines = made.curve.lines.map(({ wavelength }) => ({
  wavelength,
  column: setup.camera.columns / 2 + made.curve.map.position(wavelength) / setup.camera.pixel,
}));
const reader = prepareHandMarks(setup, setup.camera);

describe("marks set by hand", () => {
  it("give the gradient that bent the light", () => {
    const reading = reader(marks, lines);
    // The beam is 8 mm high and the gradient in its middle is larger than its mean over the beam, by 1.2 % here.
    const share = reading.columnGradient.value / made.vapour.middle.columnGradient;
    expect(share).toBeGreaterThan(0.98);
    expect(share).toBeLessThan(1);
    expect(reading.scatter).toBeLessThan(0.3);
    expect(reading.tilt).toBeCloseTo(0, 4);
    const separation = Math.abs((lines[1]?.wavelength ?? 0) - (lines[0]?.wavelength ?? 0));
    expect((reading.lineSeparation ?? 0) / separation).toBeCloseTo(1, 4);
  });

  it("follow a mark that is moved, by as much as it weighs, and say by how much it stands off", () => {
    const before = reader(marks, lines);
    const at = 10;
    const moved = marks.map((mark, i) => (i === at ? { ...mark, row: mark.row - 5 } : mark));
    const after = reader(moved, lines);
    expect((after.residuals[at] ?? 0) - (before.residuals[at] ?? 0)).toBeGreaterThan(4);
    expect(after.scatter).toBeGreaterThan(before.scatter);
    // Linear: a move ten times as large moves the answer ten times as far.
    const shift = (rows: number): number =>
      reader(
        marks.map((mark, i) => (i === at ? { ...mark, row: mark.row - rows } : mark)),
        lines,
      ).columnGradient.value - before.columnGradient.value;
    expect(shift(10) / shift(1)).toBeCloseTo(10, 6);
  });

  it("read a tilted picture's tilt with its sign", () => {
    const tilted = marks.map(({ column, row }) => ({
      column,
      row: row - 0.01 * (column - setup.camera.columns / 2),
    }));
    expect(reader(tilted, lines).tilt).toBeCloseTo(Math.atan(0.01), 4);
  });

  it("are refused when they are too few, or the line is not in view", () => {
    expect(() => reader(marks.slice(0, 3), lines)).toThrow(/^marks: expected at least 4 marks/);
    expect(() => reader(marks, [])).toThrow(/^line marks: expected a line of Cs in view: 455\./);
    expect(() => reader(marks, [{ wavelength: 500e-9, column: 3 }])).toThrow(/500\.0000 nm/);
  });

  it("work for another setup of the same picture size, one line", () => {
    const other = parseSetup(overrideSetup(document, ["camera.columns=500"]));
    const one = lines.slice(0, 1);
    expect(prepareHandMarks(other, setup.camera)(marks, one).lineSeparation).toBeNull();
  });
});
