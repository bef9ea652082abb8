/** Index of optical glass and fused silica, absolute and as the catalogue counts it. */
import { formatQuantity, Refusal } from "../quantity/index.ts";
import type { Sellmeier } from "../reference/index.ts";
import { fusedSilica, glassByCode, sapphire } from "../reference/index.ts";
import { airRefractivityOf } from "./air.ts";

/** Catalogues count index and wavelength in dry air at 20 °C and 101325 Pa. */
const catalogueAir = airRefractivityOf({ temperature: 293.15, pressure: 101325 });

/** Code that stands for fused silica beside the six-digit codes of glasses; "sapphire" stands for sapphire's ordinary ray. */
export const FUSED_SILICA = "fused-silica";

function formulaOf(code: string, field: string): Sellmeier {
  if (code === FUSED_SILICA) return fusedSilica();
  return code === "sapphire" ? sapphire() : glassByCode(code, field);
}

/** n² − 1 = Σ Bᵢ λ²/(λ² − Cᵢ), with λ as the formula counts it. */
export function sellmeierIndex(formula: Sellmeier, wavelength: number): number {
  const square = wavelength * wavelength;
  let sum = 1;
  for (let i = 0; i < formula.strengths.length; i++) {
    sum += (formula.strengths[i] * square) / (square - formula.resonances[i]);
  }
  return Math.sqrt(sum);
}

/** Wavelengths for which a glass is tabulated, m. */
export function glassRange(code: string): { readonly wavelengthMin: number; readonly wavelengthMax: number } {
  const { wavelengthMin, wavelengthMax } = formulaOf(code, "glass");
  return { wavelengthMin, wavelengthMax };
}

function checkRange(formula: Sellmeier, wavelength: number, code: string, field: string): void {
  if (wavelength >= formula.wavelengthMin && wavelength <= formula.wavelengthMax) return;
  const nm = (x: number): string => formatQuantity(x, "m", { as: "nm" });
  throw new Refusal({
    code: "glass-out-of-range",
    field,
    received: Number.isFinite(wavelength) ? nm(wavelength) : String(wavelength),
    expected: `a wavelength between ${nm(formula.wavelengthMin)} and ${nm(formula.wavelengthMax)}, where glass ${code} is tabulated`,
  });
}

/**
 * Index relative to air at 20 °C and 101325 Pa, as printed in catalogues.
 *
 * @param code six-digit glass code, e.g. "517642", or "fused-silica"
 * @param airWavelength wavelength in that air, m, within the catalogue's range
 * @returns n, 1; the catalogue's fit holds to about 3e-6 for the melt it was made for, while melts differ by 5e-4
 * @throws Refusal unknown code, wavelength outside the tabulated range
 */
export function glassIndexInAir(code: string, airWavelength: number): number {
  const formula = formulaOf(code, "glass");
  checkRange(formula, airWavelength, code, "glass.wavelength");
  return sellmeierIndex(formula, airWavelength);
}

/**
 * Absolute index of glass at 20 °C: n_abs(λ) = n_rel(λ/n_air) · n_air(λ), with the air in which the catalogue counts.
 *
 * @param code as in `glassIndexInAir`
 * @param vacuumWavelength m
 * @returns n relative to vacuum, 1
 * @throws Refusal unknown code, wavelength outside the tabulated range
 */
export function glassIndex(code: string, vacuumWavelength: number): number {
  return glassIndexOf(code)(vacuumWavelength);
}

/** The same for one glass and many wavelengths: the code is looked up once. */
export function glassIndexOf(code: string, field = "glass"): (vacuumWavelength: number) => number {
  const formula = formulaOf(code, field);
  return (vacuumWavelength) => {
    // A wavelength that air cannot answer lies outside every glass as well: refuse in the words of the glass.
    checkRange(formula, vacuumWavelength, code, `${field}.wavelength`);
    const air = 1 + catalogueAir(vacuumWavelength);
    return sellmeierIndex(formula, vacuumWavelength / air) * air;
  };
}
