import { describe, expect, it } from "vitest";
import type { VesselInput } from "./api.ts";
import { beamColumns, supersaturationAt } from "./columns.ts";
import { beamProfile, crossSection, longSection, supersaturationField, wallTable } from "./sections.ts";
import { solveVapour } from "./solve.ts";

const TUBE: VesselInput = {
  element: "Cs",
  bore: 0.04,
  heatedLength: 0.4,
  length: 0.8,
  wall: { kind: "measured", bottom: 558, top: 428, ends: 333, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 4000,
};
const field = solveVapour(TUBE, { radial: 12, angular: 16, axial: 24 });

describe("cuts through a tube", () => {
  it("across: dense and hot below, alike left and right, within the cells' values", () => {
    const { values, columns, rows, width } = crossSection(field, "density", 40);
    expect([columns, rows, width]).toEqual([40, 40, 0.04]);
    const at = (r: number, c: number): number => values[r * 40 + c];
    expect(at(38, 20)).toBeGreaterThan(3 * at(1, 20));
    for (let r = 0; r < 40; r++) expect(at(r, 7) / at(r, 32)).toBeCloseTo(1, 6);
    const highest = field.density.reduce((a, b) => Math.max(a, b));
    for (const v of values) expect(v >= 0 && v <= highest).toBe(true);
  });

  it("along: alike on both sides of mid-length, nothing at the ends", () => {
    const { values } = longSection(field, "density", 60, 20);
    for (let r = 0; r < 20; r++) {
      expect(values[r * 60 + 10]).toBeCloseTo(values[r * 60 + 49], -12);
      expect(values[r * 60]).toBeLessThan(1e-3 * values[r * 60 + 30] + 1e18);
    }
  });

  it("the wall: bottom in the middle row, top at both edges, ends outside", () => {
    const { values, columns, rows, height } = wallTable(field, 60, 24);
    expect(height).toBe(2 * Math.PI);
    const at = (r: number, c: number): number => values[r * columns + c];
    expect(at(rows / 2, 30)).toBeCloseTo(558, 0);
    expect(at(0, 30)).toBeCloseTo(428, 0);
    expect(at(rows - 1, 30)).toBeCloseTo(428, 0);
    expect(at(5, 0)).toBeCloseTo(333, 0);
  });

  it("supersaturation is p/p_sat of every cell", () => {
    const s = supersaturationField(field);
    expect(s.length).toBe(field.density.length);
    const c = 12 * 16 * 12 + 5;
    expect(s[c]).toBe(supersaturationAt(field, field.moleFraction[c], field.gasTemperature[c]));
  });
});

describe("the profile on the beam", () => {
  it("integrates to the columns", () => {
    const profile = beamProfile(field, 0.003);
    const columns = beamColumns(field, Float64Array.of(0.003));
    let n = 0;
    let g = 0;
    for (let k = 0; k < field.grid.axial; k++) {
      const dz = field.grid.zFaces[k + 1] - field.grid.zFaces[k];
      n += profile.density[k] * dz;
      g += profile.densityGradient[k] * dz;
    }
    expect(n / columns.columnDensity[0]).toBeCloseTo(1, 9);
    expect(g / columns.columnGradient[0]).toBeCloseTo(1, 9);
    expect(Math.max(...profile.supersaturation)).toBeGreaterThan(1);
  });
});
