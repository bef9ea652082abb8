/** Refractivity of air, and the way between air and vacuum wavelengths. */
import { exp, pow } from "../numerics/elementary/index.ts";
import { formatQuantity, Refusal } from "../quantity/index.ts";
import { ciddorParameters, standardAir } from "../reference/index.ts";

export interface AirState {
  /** K */
  readonly temperature: number;
  /** Pa */
  readonly pressure: number;
  /** relative humidity, 0 to 1, default 0 */
  readonly humidity?: number;
  /** CO₂ as a mole fraction, 1, default 450e-6 */
  readonly co2?: number;
}

/** Wavelengths for which an answer is given, m: a little beyond the fits on both sides, where they extrapolate smoothly. */
const SHORTEST = 200e-9;
const LONGEST = 4e-6;

const {
  named: P,
  co2Slope,
  co2Reference,
  molarMass,
  molarMassSlope,
  molarMassReference,
} = ciddorParameters();
const ICE = 273.15;

/** Compressibility of moist air (Ciddor 1996, appendix A; after CIPM 1981/91). */
function compressibility(temperature: number, pressure: number, water: number): number {
  const t = temperature - ICE;
  const ratio = pressure / temperature;
  const first = P["a0"] + P["a1"] * t + P["a2"] * t * t;
  const wet = (P["b0"] + P["b1"] * t) * water + (P["c0"] + P["c1"] * t) * water * water;
  return 1 - ratio * (first + wet) + ratio * ratio * (P["d"] + P["e"] * water * water);
}

/** Mole fraction of water from the relative humidity. */
function waterFraction({ temperature, pressure, humidity = 0 }: AirState): number {
  if (humidity === 0) return 0;
  const t = temperature - ICE;
  const saturation = exp(P["A"] * pow(temperature, 2) + P["B"] * temperature + P["C"] + P["D"] / temperature);
  const enhancement = P["alpha"] + P["beta"] * pressure + P["gamma"] * t * t;
  return (enhancement * humidity * saturation) / pressure;
}

function refuse(field: string, received: string, expected: string): never {
  throw new Refusal({ code: "air-out-of-range", field, received, expected });
}

function checkWavelength(wavelength: number, field: string): void {
  if (!(wavelength >= SHORTEST && wavelength <= LONGEST)) {
    refuse(
      field,
      Number.isFinite(wavelength) ? formatQuantity(wavelength, "m", { as: "nm" }) : String(wavelength),
      "a wavelength between 200 nm and 4000 nm in air",
    );
  }
}

/** Amount of dry air and of water, relative to the conditions in which their dispersion was measured, and CO₂'s factor. */
interface AirFactors {
  readonly dry: number;
  readonly wet: number;
}

function factors(state: AirState): AirFactors {
  const { temperature, pressure, humidity = 0, co2 = co2Reference * 1e-6 } = state;
  if (!(temperature > 0 && temperature < 2000))
    refuse("air.temperature", `${temperature} K`, "0 K to 2000 K");
  if (!(pressure >= 0 && pressure <= 1e6)) refuse("air.pressure", `${pressure} Pa`, "0 Pa to 1 MPa");
  if (!(humidity >= 0 && humidity <= 1)) refuse("air.humidity", String(humidity), "a share from 0 to 1");
  if (!(co2 >= 0 && co2 <= 0.1)) refuse("air.co2", String(co2), "a mole fraction from 0 to 0.1");
  if (pressure === 0) return { dry: 0, wet: 0 };
  const water = waterFraction(state);
  if (water > 1) refuse("air.humidity", String(humidity), "less water vapour than the pressure allows");
  const ppm = co2 * 1e6;
  const perKelvin = pressure / (compressibility(temperature, pressure, water) * temperature);
  // Standard dry air: 15 °C, 101325 Pa. Standard water vapour: 20 °C, 1333 Pa (Ciddor 1996, section 3).
  const dryStandard = 101325 / (compressibility(288.15, 101325, 0) * 288.15);
  const wetStandard = 1333 / (compressibility(293.15, 1333, 1) * 293.15);
  // The molar mass of air cancels in the ratio of its two densities, but not CO₂'s effect on the refractivity.
  return {
    dry: ((perKelvin * (1 - water)) / dryStandard) * (1 + co2Slope * (ppm - co2Reference)),
    wet: (perKelvin * water) / wetStandard,
  };
}

function withFactors(wavelength: number, { dry, wet }: AirFactors): number {
  const s2 = 1e-12 / pow(wavelength, 2);
  const dryStandard = P["k1"] / (P["k0"] - s2) + P["k3"] / (P["k2"] - s2);
  if (wet === 0) return dry * dryStandard;
  const water = P["w0"] + P["w1"] * s2 + P["w2"] * pow(s2, 2) + P["w3"] * pow(s2, 3);
  return dry * dryStandard + wet * P["water_cf"] * 1e-8 * water;
}

/**
 * n − 1 of air (Ciddor, Appl. Opt. 35, 1566 (1996)).
 *
 * @param wavelength in vacuum, m, 200 nm to 4 µm; the fit rests on 230 nm to 1690 nm, beyond which it extrapolates
 * @param state temperature K, pressure Pa, relative humidity 0…1 (default dry), CO₂ mole fraction (default 450e-6)
 * @returns n − 1, 1; accuracy 1e-8 to 5e-8 for −40 °C to 100 °C and 80 kPa to 120 kPa, more elsewhere
 * @throws Refusal outside the ranges named
 */
export function airRefractivity(wavelength: number, state: AirState): number {
  checkWavelength(wavelength, "air.wavelength");
  return withFactors(wavelength, factors(state));
}

/** The same for one state and many wavelengths: the state is worked out once. */
export function airRefractivityOf(state: AirState): (wavelength: number) => number {
  const once = factors(state);
  return (wavelength) => {
    checkWavelength(wavelength, "air.wavelength");
    return withFactors(wavelength, once);
  };
}

/** Density of moist air, kg/m³ (CIPM 1981/91 as Ciddor uses it); the same ranges as `airRefractivity`. */
export function airDensity(state: AirState): number {
  factors(state);
  const { temperature, pressure, co2 = co2Reference * 1e-6 } = state;
  if (pressure === 0) return 0;
  const water = waterFraction(state);
  const dryMass = 1e-3 * (molarMass + molarMassSlope * (co2 * 1e6 - molarMassReference));
  const amount = pressure / (compressibility(temperature, pressure, water) * P["R"] * temperature);
  return amount * (dryMass * (1 - water) + P["M_w"] * water);
}

const STANDARD = standardAir("edlen-1953");

/** n − 1 of the standard air in which tables print wavelengths: 15 °C, 101325 Pa (Edlén 1953); vacuum wavelength, m. */
export function standardAirRefractivity(wavelength: number): number {
  const s2 = 1 / pow(wavelength, 2);
  let sum = STANDARD.constant;
  for (let i = 0; i < STANDARD.strengths.length; i++)
    sum += STANDARD.strengths[i] / (STANDARD.resonances[i] - s2);
  return sum;
}

/**
 * Wavelength in standard air (15 °C, 101325 Pa, dry), m, of a vacuum wavelength, m. The formula is the one with which
 * the tables of lines convert (Edlén 1953), so that published pairs agree to their last digit; Ciddor's differs by less
 * than 3e-8 of the wavelength. Refuses wavelengths below 200 nm, where tables print vacuum wavelengths only.
 */
export function vacuumToAir(wavelength: number): number {
  checkWavelength(wavelength, "wavelength");
  return wavelength / (1 + standardAirRefractivity(wavelength));
}

/** Vacuum wavelength, m, of a wavelength in standard air, m: the inverse of `vacuumToAir` to rounding. */
export function airToVacuum(wavelength: number): number {
  checkWavelength(wavelength, "wavelength");
  let vacuum = wavelength;
  // Each round shrinks the error by λ|dn/dλ|, 1.4e-4 at 200 nm where it is worst: four take 3e-4 to the last bit.
  for (let round = 0; round < 4; round++) vacuum = wavelength * (1 + standardAirRefractivity(vacuum));
  return vacuum;
}
