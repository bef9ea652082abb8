// @vitest-environment node
import { describe, expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { saturationPressure } from "../../medium/index.ts";
import { insideOf } from "./cuts.ts";
import { contourPath, levelsOf, profileAxis } from "./scales.ts";

describe("the inside of the demo's tube", () => {
  const inside = insideOf(demo);
  const at = (field: { columns: number; values: Float32Array }, row: number, column: number): number =>
    field.values[row * field.columns + column];

  it("is saturated at the hot metal below and cold above", () => {
    const { long } = inside.temperature;
    const middle = long.columns >> 1;
    expect(at(long, long.rows - 1, middle)).toBeGreaterThan(550);
    expect(at(long, 0, middle)).toBeLessThan(440);
    expect(at(inside.supersaturation.long, long.rows - 1, middle)).toBeCloseTo(1, 0);
  });

  it("gives the supersaturation that density and temperature make", () => {
    const c = (inside.density.long.rows >> 1) * inside.density.long.columns + 80;
    const [n, t] = [inside.density.long.values[c], inside.temperature.long.values[c]];
    const expected = (n * 1.380649e-23 * t) / saturationPressure("Cs", t);
    expect(Math.abs(inside.supersaturation.long.values[c] / expected - 1)).toBeLessThan(0.01);
  });

  it("unrolls the wall with the bottom in the middle", () => {
    const { wall } = inside;
    const middle = wall.columns >> 1;
    expect(at(wall, wall.rows >> 1, middle)).toBeCloseTo(285 + 273.15, 0);
    expect(at(wall, 0, middle)).toBeCloseTo(155 + 273.15, 0);
    expect(at(wall, wall.rows >> 1, 0)).toBeCloseTo(60 + 273.15, 0);
  });
});

describe("contours", () => {
  it("follow a plane's level straight across", () => {
    const field = {
      columns: 3,
      rows: 2,
      width: 1,
      height: 1,
      values: Float32Array.of(0, 1, 2, 0, 1, 2),
    };
    expect(contourPath(field, 0.5)).toBe("M1.00 0.50L1.00 1.50");
    expect(contourPath(field, 5)).toBe("");
  });
  it("stand at round values inside the range", () => {
    expect(levelsOf(0, 10, 5).map(({ value }) => value)).toEqual([2, 4, 6, 8]);
    expect(levelsOf(3, 3)).toEqual([]);
  });
});

describe("profileAxis", () => {
  it("takes powers of ten out, and keeps a level profile drawable", () => {
    const { y, axis } = profileAxis(Float64Array.of(2e21, 4e21), "density", "m⁻³");
    expect(Array.from(y)).toEqual([2, 4]);
    expect(axis.unit).toBe("10^21 m⁻³");
    const flat = profileAxis(Float64Array.of(1, 1), "supersaturation", "");
    expect(flat.axis.to).toBeGreaterThan(flat.axis.from);
  });
});
