/** The buffer gas as a body: viscosity, thermal conductivity, free path, and the diffusion of a metal's atoms in it. */
import { pow } from "../numerics/elementary/index.ts";
import gases from "../../data/gases.json" with { type: "json" };
import { Refusal } from "../quantity/refusal.ts";
import { ATMOSPHERE, BOLTZMANN, diffusionOf, GAS_CONSTANT, gasTransport, TORR } from "../reference/index.ts";

/** Coefficients of  C1 T^C2 / (1 + C3/T + C4/T²). */
interface PowerLaw {
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  readonly c4: number;
}

export interface GasProperties {
  /** symbol, e.g. "Ar" */
  readonly gas: string;
  /** mass of a particle, kg */
  readonly particleMass: number;
  /** molar mass, kg/mol */
  readonly molarMass: number;
  /** heat capacity at constant pressure, J/(kg K) */
  readonly heatCapacity: number;
  readonly viscosityLaw: PowerLaw;
  readonly conductivityLaw: PowerLaw;
}

const known = new Map<string, GasProperties>();
for (const entry of gases.gases) {
  const molarMass = entry.molar_mass.value * 1e-3;
  known.set(entry.gas, {
    gas: entry.gas,
    molarMass,
    particleMass: (molarMass / GAS_CONSTANT) * BOLTZMANN,
    heatCapacity: (entry.molar_heat_capacity.value * GAS_CONSTANT) / molarMass,
    viscosityLaw: law(entry.gas, "vapour viscosity"),
    conductivityLaw: law(entry.gas, "vapour thermal conductivity"),
  });
}

function law(gas: string, correlation: string): PowerLaw {
  const p = gasTransport(gas).find((e) => e.correlation === correlation)?.parameters;
  if (p === undefined) throw new Error(`diffusion.json has no ${correlation} of ${gas}`);
  return { c1: p["C1"], c2: p["C2"], c3: p["C3"], c4: p["C4"] };
}

/** The gas of that symbol; refuses others by name. `field` names where it was asked for. */
export function gasProperties(gas: string, field = "vessel.gas"): GasProperties {
  const properties = known.get(gas);
  if (properties === undefined) {
    throw new Refusal({
      code: "unknown-gas",
      field,
      received: `"${gas}"`,
      expected: `one of ${[...known.keys()].join(", ")}`,
    });
  }
  return properties;
}

function evaluate(law: PowerLaw, temperature: number): number {
  return (
    (law.c1 * pow(temperature, law.c2)) / (1 + law.c3 / temperature + law.c4 / (temperature * temperature))
  );
}

/**
 * Viscosity of the dilute gas, Pa s, at a temperature in K; independent of pressure. Handbook correlation
 * C1 T^C2/(1 + C3/T + C4/T²), coefficients and source in data/diffusion.json; within 0.7 % of a second
 * published source between 300 K and 800 K (air: 2.5 %), see data/diffusion.json.
 */
export function viscosity(gas: GasProperties, temperature: number): number {
  return evaluate(gas.viscosityLaw, temperature);
}

/** Thermal conductivity of the dilute gas, W/(m K), at a temperature in K; form and source as `viscosity`, within 2.2 %. */
export function conductivity(gas: GasProperties, temperature: number): number {
  return evaluate(gas.conductivityLaw, temperature);
}

/** Mean free path, m:  (η/p) √(π k T / 2m), from the viscosity (kinetic theory). */
export function meanFreePath(gas: GasProperties, temperature: number, pressure: number): number {
  return (
    (viscosity(gas, temperature) / pressure) *
    Math.sqrt((Math.PI * BOLTZMANN * temperature) / (2 * gas.particleMass))
  );
}

/**
 * Rayleigh number of a round bore, 1:  g ΔT d³ ρ² c_p / (T η κ), with the ideal gas's expansion 1/T, everything at the
 * mean temperature. ΔT = bottom − top: negative where the layering is stable.
 */
export function rayleighNumber(
  gas: GasProperties,
  bore: number,
  pressure: number,
  bottom: number,
  top: number,
  gravity: number,
): number {
  const mean = 0.5 * (bottom + top);
  const density = (pressure * gas.particleMass) / (BOLTZMANN * mean);
  return (
    (gravity * (bottom - top) * pow(bore, 3) * density * density * gas.heatCapacity) /
    (mean * viscosity(gas, mean) * conductivity(gas, mean))
  );
}

/** Diffusion of a metal's atoms in a gas: D = reference · (T/T_reference)^exponent · (p_reference/p). */
export interface PairDiffusion {
  /** D at the reference temperature and pressure, m²/s */
  readonly reference: number;
  /** K */
  readonly referenceTemperature: number;
  /** Pa */
  readonly referencePressure: number;
  /** exponent of temperature, 1 */
  readonly exponent: number;
  /** relative standard uncertainty, 1 */
  readonly relativeUncertainty: number;
  /** where it comes from */
  readonly source: string;
  /** "measured" for this pair, or "scaled" from rubidium in the same gas */
  readonly kind: "measured" | "scaled";
}

export function metalMolarMass(element: string, field = "vessel.element"): number {
  const metal = gases.metals.find((m) => m.element === element);
  if (metal === undefined) {
    throw new Refusal({
      code: "unknown-element",
      field,
      received: `"${element}"`,
      expected: `one of ${gases.metals.map((m) => m.element).join(", ")}`,
    });
  }
  return metal.molar_mass * 1e-3;
}

/** Density of the solid metal, kg/m³; undefined where none is stored. */
export function solidDensity(element: string): number | undefined {
  return gases.metals.find((m) => m.element === element)?.solid_density;
}

/** Moles of hydrogen that a mole of the metal sets free from cold water, 1. */
export function hydrogenPerMetal(element: string): number {
  return gases.metals.find((m) => m.element === element)?.valence_hydrogen ?? 0;
}

/**
 * Diffusion of the element in the gas: the measured pair where there is one with a stated reference temperature; else
 * rubidium in that gas times √(μ_Rb/μ), good to 30 %. The field of density does not depend on it, rates do.
 */
export function pairDiffusion(element: string, gas: GasProperties): PairDiffusion {
  const mass = metalMolarMass(element);
  const exponent = gases.diffusion.temperature_exponent.value;
  const product = gases.diffusion.pressure_products.find((p) => p.atom === element && p.gas === gas.gas);
  if (product !== undefined) {
    return {
      reference: (product.value * 1e-4 * TORR) / ATMOSPHERE,
      referenceTemperature: product.T_reference,
      referencePressure: ATMOSPHERE,
      exponent,
      relativeUncertainty: product.uncertainty / product.value,
      source: product.source,
      kind: "measured",
    };
  }
  const measured = measuredPair(element, gas.gas);
  if (measured !== undefined) return { ...measured, exponent };
  const rubidium = measuredPair("Rb", gas.gas);
  if (rubidium === undefined) {
    throw new Refusal({
      code: "no-diffusion-data",
      field: "vessel.gas",
      received: `"${gas.gas}"`,
      expected: "a gas in which the diffusion of a metal has been measured, one of He, Ne, Ar, N2",
    });
  }
  const rubidiumMass = metalMolarMass("Rb");
  const reduced = (a: number): number => (a * gas.molarMass) / (a + gas.molarMass);
  return {
    ...rubidium,
    reference: rubidium.reference * Math.sqrt(reduced(rubidiumMass) / reduced(mass)),
    exponent,
    relativeUncertainty: gases.diffusion.scaling.relative_uncertainty,
    source: `${gases.diffusion.scaling.rule}; ${rubidium.source}`,
    kind: "scaled",
  };
}

/** The first stored measurement of a pair that states its reference temperature; published copies come first. */
function measuredPair(element: string, gas: string): Omit<PairDiffusion, "exponent"> | undefined {
  const found = diffusionOf(element, gas).find((each) => each.referenceTemperature !== undefined);
  if (found === undefined) return undefined;
  const { value, uncertainty, source } = found.coefficient;
  return {
    reference: value,
    referenceTemperature: found.referenceTemperature!,
    referencePressure: found.referencePressure,
    relativeUncertainty:
      uncertainty === undefined ? gases.diffusion.scaling.relative_uncertainty : uncertainty / value,
    source,
    kind: "measured",
  };
}
