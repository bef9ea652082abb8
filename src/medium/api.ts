/** Types of the medium room: what light meets. SI units; wavelengths are vacuum wavelengths in metres. */

export type LineStructure = "hyperfine" | "merged";

/** Buffer gas around the vapour. */
export interface BufferGas {
  /** chemical symbol, one of "He" | "Ne" | "Ar" | "Kr" | "Xe" | "N2" */
  readonly species: string;
  /** partial pressure of the gas, Pa, ≥ 0 */
  readonly pressure: number;
}

/** What may be entered by hand instead of the published value. Keys are line ids of data/lines.json. */
export interface MediumOverrides {
  /** absorption oscillator strength, 1, by line id */
  readonly oscillatorStrength?: Readonly<Record<string, number>>;
  /** collisional FWHM by the buffer gas at the given conditions, Hz, for every line: replaces the published rate */
  readonly gasWidth?: number;
  /** which vapour-pressure equation: one of "alcock-practical" | "alcock-precise" | "nesmeyanov" | "crc" */
  readonly pressureEquation?: string;
  /** atom fractions by isotope, e.g. { "39K": 1 }: replaces nature's mixture; isotopes not named are absent; scaled to sum 1 */
  readonly abundance?: Readonly<Record<string, number>>;
}

/** State of the vapour where the light goes through it. */
export interface VapourState {
  /** element symbol, e.g. "K" */
  readonly element: string;
  /** number density of the metal's atoms, m⁻³, > 0 */
  readonly density: number;
  /** gas temperature, K, > 0: sets the Doppler width and the collision rates */
  readonly temperature: number;
  readonly gas?: BufferGas;
  /** default "hyperfine" */
  readonly structure?: LineStructure;
  readonly overrides?: MediumOverrides;
}

/** One component of a line, complete enough to recompute the susceptibility from it. */
export interface LineComponent {
  /** id of the parent line in data/lines.json */
  readonly line: string;
  /** vacuum wavelength, m, unshifted */
  readonly wavelength: number;
  /** absorption oscillator strength of the whole parent line, 1 */
  readonly oscillatorStrength: number;
  /** share of the parent line, 1; the weights of a line sum to 1 */
  readonly weight: number;
  /** share of the atoms that sit in the line's lower level, 1: 1 for a ground level that stands alone */
  readonly population: number;
  /** isotope, e.g. "39K"; the element's symbol where isotopes are merged */
  readonly isotope: string;
  /** Doppler 1/e half width, rad/s */
  readonly dopplerWidth: number;
  /** Lorentz FWHM (natural + self + gas), rad/s */
  readonly lorentzWidth: number;
  /** collisional shift of the centre, rad/s, positive to higher frequency */
  readonly shift: number;
}

/** Optical response over wavelengths; all arrays have the length of `wavelength`. */
export interface OpticalResponse {
  /** vacuum wavelength, m */
  readonly wavelength: Float64Array;
  /** n − 1, 1 */
  readonly refractivity: Float64Array;
  /** absorption coefficient, 1/m */
  readonly absorption: Float64Array;
  /** phase velocity in units of c, 1 */
  readonly phaseVelocity: Float64Array;
  /** group index n + ω dn/dω, 1 */
  readonly groupIndex: Float64Array;
}

/** What one atom does to light, in the small-χ limit used along a beam; arrays of one length. */
export interface PerAtom {
  /** (n − 1)/N of the vapour alone, m³ */
  readonly refractivityPerDensity: Float64Array;
  /** α/N, m² */
  readonly crossSection: Float64Array;
}
