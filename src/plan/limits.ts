/** Strength of windows, heat limits of tubes and the amounts behind the cautions, by published formulas and data files. */
import hazards from "../../data/hazards.json" with { type: "json" };
import strength from "../../data/strength.json" with { type: "json" };
import type { SourceInput } from "../path/index.ts";
import { sourceRadiance } from "../path/index.ts";
import { Refusal, toCoherent } from "../quantity/index.ts";
import { hydrogenEquivalent } from "../vessel/index.ts";

/** A limit with where it comes from. */
export interface Limit {
  /** SI-coherent */
  readonly value: number;
  /** source, marked where it was not seen in a published copy */
  readonly source: string;
}

interface Stored {
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  readonly origin: string;
}

function limit(stored: Stored): Limit {
  const { value, unit, source, origin } = stored;
  return {
    value: toCoherent(value, unit),
    source: origin === "memory" ? `${source} (value from memory)` : source,
  };
}

export const SAFETY_FACTOR = limit(strength.plate.safety_factor);
export const LEAST_SAFETY_FACTOR = limit(strength.plate.least_safety_factor);
export const ROOM_PRESSURE = strength.room_pressure.value;
export const USUAL_CHARGE = limit(hazards.hydrogen.charge_usual);
export const USUAL_RAMP = limit(hazards.ramp);
/** rad */
const ACUITY = limit(hazards.acuity);

export interface TubeMaterial {
  readonly id: string;
  readonly name: string;
  /** highest wall temperature, K */
  readonly limit: Limit;
  readonly attackedBy: readonly string[];
  readonly attackSource: string | undefined;
}

export interface WindowMaterial {
  readonly id: string;
  readonly name: string;
  /** Pa */
  readonly rupture: Limit;
}

function entry<T extends { readonly id: string }>(list: readonly T[], id: string, field: string): T {
  const found = list.find((each) => each.id === id);
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-material",
    field,
    received: `"${id}"`,
    expected: `one of ${list.map((each) => each.id).join(", ")}`,
  });
}

/** What is known of a tube's material; refuses one that is not stored. */
export function tubeMaterial(id: string): TubeMaterial {
  const raw = entry(strength.tubes, id, "vessel.tubeMaterial");
  return {
    id,
    name: raw.name,
    limit: limit(raw.limit),
    attackedBy: raw.attacked_by,
    attackSource: "attack_source" in raw ? raw.attack_source : undefined,
  };
}

/** What is known of a window's material; refuses one that is not stored. */
export function windowMaterial(id: string): WindowMaterial {
  const raw = entry(strength.windows, id, "vessel.windowMaterial");
  return { id, name: raw.name, rupture: limit(raw.rupture) };
}

/**
 * Largest bending stress in a round plate under pressure on one side: σ = K p D²/(4 t²), K = 1.125 where the rim lies
 * loose (an O-ring), 0.75 where it is clamped; D is the diameter that nothing supports.
 * Source: "The Design of Pressure Windows"; the clamped case is 3/4 p a²/t² of plate theory (Timoshenko).
 * @param pressure difference, Pa
 * @param diameter m
 * @param thickness m, > 0
 * @returns Pa
 */
export function plateStress(
  pressure: number,
  diameter: number,
  thickness: number,
  rim: "loose" | "clamped" = "loose",
): number {
  const k = (rim === "loose" ? strength.plate.unclamped : strength.plate.clamped).value;
  return (k * pressure * diameter * diameter) / (4 * thickness * thickness);
}

/** Thickness, m, at which the stress is the rupture strength (Pa) over the factor, other arguments as `plateStress`. */
export function plateThickness(
  pressure: number,
  diameter: number,
  rupture: number,
  factor: number,
  rim: "loose" | "clamped" = "loose",
): number {
  return Math.sqrt((plateStress(pressure, diameter, 1, rim) * factor) / rupture);
}

export interface Hydrogen {
  /** mol of H₂ */
  readonly amount: number;
  /** m³ at 20 °C and one atmosphere */
  readonly volume: number;
  /** air, m³, that this volume can make burnable: volume / lower explosive limit */
  readonly burnable: number;
}

/**
 * Hydrogen that a mass of metal (kg) sets free from water, by `hydrogenEquivalent`, and the air it makes burnable.
 * Refuses a metal that is not stored.
 */
export function hydrogenYield(element: string, mass: number): Hydrogen {
  const { moles: amount, volume } = hydrogenEquivalent(element, mass);
  return { amount, volume, burnable: volume / hazards.hydrogen.lower_explosive_limit.value };
}

export interface BlueLight {
  /** blue-light weighted radiance ∫B L dλ, W/(m²·sr) */
  readonly radiance: number;
  /** s of looking into the lamp until the limit of dose is reached; Infinity where it never is */
  readonly time: number;
  /** m within which the bare lamp stays above the limit for long looking: √(∫B L dλ · A / 1 W/m²), A the lamp's usual size */
  readonly distance: number;
  readonly source: string;
}

/** How long one may look into the bare lamp, by the blue-light limit. "flat" is no lamp: undefined. */
export function blueLight(source: SourceInput): BlueLight | undefined {
  if (source.kind === "flat") return undefined;
  const { dose, unlimited_radiance, weights, small_source_irradiance, lamp_areas } = hazards.blue_light;
  const step = 1e-9;
  const from = weights[0][0];
  const wavelengths = Float64Array.from(
    { length: weights[weights.length - 1][0] - from + 1 },
    (_, i) => (from + i) * step,
  );
  const radiances = sourceRadiance(source, wavelengths);
  let radiance = 0;
  let k = 0;
  wavelengths.forEach((_, i) => {
    const nm = from + i;
    while (k + 2 < weights.length && nm > weights[k + 1][0]) k++;
    const [a, wa] = weights[k];
    const [b, wb] = weights[k + 1];
    radiance += (wa + ((wb - wa) * (nm - a)) / (b - a)) * radiances[i] * step;
  });
  const time = radiance <= unlimited_radiance.value ? Infinity : dose.value / radiance;
  const distance = Math.sqrt((radiance * lamp_areas[source.kind]) / small_source_irradiance.value);
  return { radiance, time, distance, source: limit(dose).source };
}

/** Smallest detail, m, that a sound eye tells apart at a distance in m: one minute of arc (Snellen). */
export function acuityLength(distance: number): number {
  return 2 * distance * Math.tan(ACUITY.value / 2);
}
