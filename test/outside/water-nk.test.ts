/** Water's complex index: Hale & Querry, Appl. Opt. 12, 555 (1973), table I, 25 °C (looked-up). */
import { describe, expect, it } from "vitest";
import { extinctionOf, kramersKronig, waterTableMedium } from "../../src/medium/index.ts";
import { complexIndexTable, SPEED_OF_LIGHT } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

describe("n and k as tabulated", () => {
  for (const id of ["0.5um", "0.7um", "1um", "2um", "3um", "10um"]) {
    checkPublished(`water-nk-${id}`, ({ inputs }) => {
      const wavelength = Number(`${inputs.wavelength_um}e-6`);
      const { refractivity, absorption } = waterTableMedium().indexAt(Float64Array.of(wavelength));
      return [1 + refractivity[0], (absorption[0] * wavelength) / (4 * Math.PI)];
    });
  }
});

describe("n from k by Kramers–Kronig, one constant fixed at 1 µm", () => {
  const table = complexIndexTable("water-nk-25C");
  const extinction = extinctionOf(Float64Array.from(table.wavelengths), Float64Array.from(table.k));
  const omega = (wavelength: number): number => (2 * Math.PI * SPEED_OF_LIGHT) / wavelength;

  for (const id of ["2.8um", "3.2um", "10um", "12.5um"]) {
    checkPublished(`water-kk-${id}`, ({ inputs }) => {
      const at = Float64Array.of(omega(inputs.wavelength_um * 1e-6), omega(inputs.anchor_um * 1e-6));
      const [wanted, anchor] = kramersKronig(extinction, at);
      return 1.327 + wanted - anchor;
    });
  }

  it("agrees with other authors' table (Segelstein 1981, sample; looked-up) within 0.03 in the middle infrared", () => {
    // The two tables of k differ by up to some per cent; n follows each from its own k.
    const other = complexIndexTable("water-nk-segelstein-sample");
    const ours = waterTableMedium();
    other.wavelengths.forEach((wavelength, i) => {
      if (wavelength < 0.5e-6 || wavelength > 16e-6) return;
      const { refractivity } = ours.indexAt(Float64Array.of(wavelength));
      expect(Math.abs(1 + refractivity[0] - other.n[i]), String(wavelength)).toBeLessThan(0.03);
    });
  });
});
