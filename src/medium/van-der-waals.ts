/**
 * Collisional width of a line by the van der Waals force alone, an estimate for pairs without a published rate.
 * Lindholm–Foley: FWHM = 8.08 |C6|^(2/5) v^(3/5) N (rad/s), shift = −0.364 of it (data/broadening.json, theory);
 * C6 = α (⟨r²⟩_upper − ⟨r²⟩_lower) in atomic units by Unsöld's approximation, ⟨r²⟩ = n*²/2 (5n*² + 1 − 3l(l+1)).
 * For Rb D1 in argon it gives 13 MHz/Torr where 18 is published: right within a factor of two, not better.
 */
import { pow } from "../numerics/elementary/index.ts";
import data from "../../data/van-der-waals.json" with { type: "json" };
import type { Line, LineLevel } from "../reference/index.ts";
import {
  ATOMIC_MASS,
  BOHR_RADIUS,
  BOLTZMANN,
  CLASSICAL_ELECTRON_RADIUS,
  ELECTRON_MASS,
  HBAR,
  meanMassOf,
  PLANCK,
  RYDBERG,
  SPEED_OF_LIGHT,
} from "../reference/index.ts";

const IONISATION: Readonly<Record<string, number>> = data.ionisation_energy;
const POLARISABILITY: Readonly<Record<string, number>> = data.polarisability;
const GAS_MASS: Readonly<Record<string, number>> = data.gas_mass_u;

/** Gases for which an estimate can be made. */
export const BUFFER_GASES: readonly string[] = Object.keys(POLARISABILITY);

/** ⟨r²⟩ of the outer electron in a₀², hydrogen-like with the effective quantum number of the level. */
function meanSquareRadius(element: string, level: LineLevel): number {
  const binding = IONISATION[element] * 100 - level.energy / (PLANCK * SPEED_OF_LIGHT);
  const n2 = RYDBERG / binding;
  const orbital = /([spdf])[^spdf]*$/.exec(level.configuration)?.[1] ?? "s";
  const l = "spdf".indexOf(orbital);
  return (n2 / 2) * (5 * n2 + 1 - 3 * l * (l + 1));
}

/** Angular FWHM per gas density of a line, rad·m³/s, at a temperature in K. */
export function vanDerWaalsWidth(line: Line, gas: string, temperature: number): number {
  const spread = Math.abs(
    meanSquareRadius(line.element, line.upper) - meanSquareRadius(line.element, line.lower),
  );
  // E_h/ħ = m_e c² α²/ħ with α² = r_e/a₀
  const hartreeRate =
    (ELECTRON_MASS * pow(SPEED_OF_LIGHT, 2) * (CLASSICAL_ELECTRON_RADIUS / BOHR_RADIUS)) / HBAR;
  const c6 = POLARISABILITY[gas] * spread * hartreeRate * pow(BOHR_RADIUS, 6);
  const gasMass = GAS_MASS[gas] * ATOMIC_MASS;
  const metalMass = meanMassOf(line.element);
  const reduced = (gasMass * metalMass) / (gasMass + metalMass);
  const speed = Math.sqrt((8 * BOLTZMANN * temperature) / (Math.PI * reduced));
  return 8.08 * pow(c6, 0.4) * pow(speed, 0.6);
}

/** Ionisation energy of the element, cm⁻¹: how alike two metals are in size. */
export function ionisationEnergy(element: string): number {
  return IONISATION[element];
}
