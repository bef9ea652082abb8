/** What the vapour does to the light of one beam, wavelength by wavelength and height by height. */
import type { PerAtom } from "../medium/api.ts";
import { attenuation } from "../numerics/attenuation.ts";

/** Curves to be filled: one per height, all at the same wavelengths. */
export interface Bends {
  /** one for all heights, or one per height */
  readonly perAtom: readonly PerAtom[];
  /** per height: ∫∂N/∂y dz of the vapour, m⁻³, what the gas adds to every deflection, rad, and ∫N dz, m⁻² */
  readonly gradient: Float64Array;
  readonly gas: Float64Array;
  readonly density: Float64Array;
  /** results, [height · n + i]: rad, and share of the light */
  readonly deflection: Float64Array;
  readonly transmission: Float64Array;
}

/** Fills the curves: κ·gradient + gas, and exp(−σ·density). */
export type BendLoop = (bends: Bends) => void;

/** The loop that runs where the machine has no WebAssembly vectors; bend-kernel.ts gives the same bits. */
export const plainBends: BendLoop = ({ perAtom, gradient, gas, density, deflection, transmission }) => {
  for (let h = 0, at = 0; h < density.length; h++) {
    const { refractivityPerDensity, crossSection } = perAtom[perAtom.length === 1 ? 0 : h];
    const slope = gradient[h];
    const raised = gas[h];
    const column = density[h];
    for (let i = 0; i < crossSection.length; i++, at++) {
      deflection[at] = refractivityPerDensity[i] * slope + raised;
      transmission[at] = attenuation(crossSection[i] * column);
    }
  }
};
