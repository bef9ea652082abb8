/** Index of a glass against vacuum wavelength, relative to the air around it: all that a prism needs to know of a glass. */
import { airRefractivityOf, glassIndexOf, glassRange } from "../medium/index.ts";

export interface Glass {
  /** index relative to air at 20 °C and 101325 Pa, of a vacuum wavelength in m */
  index(wavelength: number): number;
  /** shortest and longest wavelength of the published fit, m */
  readonly shortest: number;
  readonly longest: number;
}

const air = airRefractivityOf({ temperature: 293.15, pressure: 101325 });

/**
 * @param code six-digit glass code, "fused-silica" or "sapphire"
 * @param field name of the field for a refusal
 * @throws Refusal for an unknown code
 */
export function glassOf(code: string, field: string): Glass {
  const absolute = glassIndexOf(code, field);
  const range = glassRange(code);
  return {
    index: (wavelength) => absolute(wavelength) / (1 + air(wavelength)),
    shortest: range.wavelengthMin,
    longest: range.wavelengthMax,
  };
}
