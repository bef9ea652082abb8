/**
 * Relations between the ways in which the strength of a line is published; all for one line in vacuum.
 * Sources: Hilborn, Am. J. Phys. 50, 982 (1982); Morton, ApJS 149, 205 (2003), section 2.
 */
import { CLASSICAL_ELECTRON_RADIUS, RYDBERG, SPEED_OF_LIGHT } from "./constants.ts";

/** Einstein A (1/s) of a line: A = (g_l/g_u) f · 8π² r_e c/λ². */
export function einsteinA(f: number, wavelength: number, gLower: number, gUpper: number): number {
  const perStrength =
    (8 * Math.PI * Math.PI * CLASSICAL_ELECTRON_RADIUS * SPEED_OF_LIGHT) / (wavelength * wavelength);
  return (gLower / gUpper) * f * perStrength;
}

/** Absorption oscillator strength from Einstein A (1/s): the inverse of `einsteinA`. */
export function strengthOfEinsteinA(a: number, wavelength: number, gLower: number, gUpper: number): number {
  return a / einsteinA(1, wavelength, gLower, gUpper);
}

/**
 * Absorption oscillator strength from the reduced dipole matrix element |⟨J_l‖d‖J_u⟩| in units of e·a₀:
 * f = (2/3) (E/E_h) |d|²/g_l, with E_h = 2 R_∞ h c.
 */
export function strengthOfMatrixElement(element: number, wavelength: number, gLower: number): number {
  const energyInHartree = 1 / (wavelength * 2 * RYDBERG);
  return ((2 / 3) * energyInHartree * element * element) / gLower;
}
