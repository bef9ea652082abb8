/** Refractivity of the buffer gases. */
import { pow } from "../numerics/elementary/index.ts";
import { formatQuantity, Refusal } from "../quantity/index.ts";
import type { GasDispersion } from "../reference/index.ts";
import { BOLTZMANN, DISPERSION_GASES, gasDispersionOf } from "../reference/index.ts";

/** m; the one-pole fits extrapolate smoothly this far, see `gasRefractivityPerDensity` */
const SHORTEST = 200e-9;
const LONGEST = 4e-6;

const FORMULAE: ReadonlyMap<string, GasDispersion> = new Map(
  DISPERSION_GASES.flatMap((gas) => {
    const formula = gasDispersionOf(gas);
    return formula === undefined ? [] : [[gas, formula] as const];
  }),
);

/** Whether a dispersion formula is stored for a gas. */
export function hasGasRefractivity(species: string): boolean {
  return FORMULAE.has(species);
}

/**
 * (n − 1)/N of a buffer gas, m³: multiply by the number density of the gas.
 *
 * n − 1 = constant + Σ aⱼ/(bⱼ − 1/λ²) at 101325 Pa and the temperature of the measurement, divided by N = p/(k_B T).
 * Taking the gas as ideal there costs 1e-3 at most (argon 6e-4).
 *
 * @param species "Ar" | "N2" | "He" | "Ne"
 * @param wavelength in vacuum, m, 200 nm to 4 µm. Fits were made on 468 nm to 2059 nm (Ar, N2), 480 nm to 2059 nm
 *   (He) and 140 nm to 546 nm (Ne); all their poles lie below 90 nm. Their long-wave limits agree with static
 *   polarizabilities to 0.2 % (Ar, N2, He); the stored neon formula lies 1.7 % low (test/outside/air-and-gases)
 * @throws Refusal a gas without stored formula, a wavelength outside 200 nm to 4 µm
 */
export function gasRefractivityPerDensity(species: string, wavelength: number): number {
  const formula = FORMULAE.get(species);
  if (formula === undefined) {
    throw new Refusal({
      code: "unknown-gas",
      field: "gas",
      received: `"${species}"`,
      expected: `one of ${[...FORMULAE.keys()].join(", ")}, whose refractivity is stored`,
    });
  }
  if (!(wavelength >= SHORTEST && wavelength <= LONGEST)) {
    throw new Refusal({
      code: "gas-out-of-range",
      field: "gas.wavelength",
      received: Number.isFinite(wavelength)
        ? formatQuantity(wavelength, "m", { as: "nm" })
        : String(wavelength),
      expected: "a wavelength between 200 nm and 4000 nm",
    });
  }
  const s2 = 1 / pow(wavelength, 2);
  let refractivity = formula.constant;
  for (let j = 0; j < formula.strengths.length; j++)
    refractivity += formula.strengths[j] / (formula.resonances[j] - s2);
  return (refractivity * BOLTZMANN * formula.temperature) / formula.pressure;
}
