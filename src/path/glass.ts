/** Index of a glass against vacuum wavelength, relative to the air around it: all that the prism needs to know of a glass. */
import glasses from "../../data/glasses.json" with { type: "json" };
import { Refusal } from "../quantity/refusal.ts";

export interface Glass {
  /** index relative to air at 20 °C and 101325 Pa, of a vacuum wavelength in m */
  index(wavelength: number): number;
  /** shortest and longest vacuum wavelength of the published fit, m */
  readonly shortest: number;
  readonly longest: number;
}

export function glassOf(code: string, field: string): Glass {
  const entry = glasses.entries.find((g) => g.glass_code === code);
  if (entry === undefined) {
    throw new Refusal({
      code: "unknown-glass",
      field,
      received: code,
      expected: `one of ${glasses.entries.map((g) => g.glass_code).join(", ")}`,
    });
  }
  const [b0, b1, b2] = entry.B as [number, number, number];
  const [c0, c1, c2] = entry.C_um2 as [number, number, number];
  return {
    index(wavelength) {
      const air = (wavelength * 1e6) / 1.000277;
      const l = air * air;
      return Math.sqrt(1 + (b0 * l) / (l - c0) + (b1 * l) / (l - c1) + (b2 * l) / (l - c2));
    },
    shortest: entry.validity.wavelength_min * 1e-6,
    longest: entry.validity.wavelength_max * 1e-6,
  };
}
