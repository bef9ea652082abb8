import { describe, expect, it } from "vitest";
import { complexIndexTable } from "../reference/index.ts";
import { waterDispersion, waterIndex, waterMedium, waterTableMedium } from "./water.ts";

describe("water", () => {
  it("gives back the table at its points", () => {
    const table = complexIndexTable("water-nk-25C");
    const inner = table.wavelengths.slice(1, -1);
    const { refractivity, absorption } = waterTableMedium().indexAt(Float64Array.from(inner));
    inner.forEach((wavelength, i) => {
      expect(refractivity[i]).toBeCloseTo(table.n[i + 1] - 1, 12);
      expect((absorption[i] * wavelength) / (4 * Math.PI) / table.k[i + 1]).toBeCloseTo(1, 9);
    });
  });

  it("agrees between formula at 20 °C and table at 25 °C to 0.0025, in the violet to 0.005", () => {
    const visible = Float64Array.from([400e-9, 500e-9, 600e-9, 700e-9, 1000e-9]);
    const formula = waterMedium().indexAt(visible);
    const table = waterTableMedium().indexAt(visible);
    formula.refractivity.forEach((r, i) => {
      expect(Math.abs(r - table.refractivity[i])).toBeLessThan(i === 0 ? 0.005 : 0.0025);
    });
    expect(formula.absorption).toEqual(table.absorption);
    expect(waterIndex(500e-9) - 1).toBe(formula.refractivity[1]);
  });

  it("foretells the infrared index from the absorption, with the ultraviolet fitted in the visible only", () => {
    const table = complexIndexTable("water-nk-25C");
    const dispersion = waterDispersion();
    const inside = table.wavelengths.flatMap((l, i) => (l >= 0.4e-6 && l <= 10e-6 ? [i] : []));
    const got = dispersion.indexAt(Float64Array.from(inside, (i) => table.wavelengths[i]));
    const worst = Math.max(...inside.map((i, j) => Math.abs(got[j] - table.n[i])));
    expect(inside).toHaveLength(106);
    expect(worst).toBeLessThan(0.005);
    expect(dispersion.ultraviolet.residual).toBeLessThan(0.001);
    expect(dispersion.ultraviolet.wavelength).toBeGreaterThan(0.05e-6);
    expect(dispersion.ultraviolet.wavelength).toBeLessThan(0.2e-6);
  });

  it("refuses wavelengths outside formula and table", () => {
    expect(() => waterIndex(1.2e-6)).toThrow(
      "wavelength: expected a wavelength from 182\u202fnm to 1129\u202fnm for water",
    );
    expect(() => waterTableMedium().indexAt(Float64Array.of(300e-6))).toThrow("to 200000\u202fnm for water");
  });
});
