/** What the vessel has to say about its own result: regimes in which the picture or the model no longer holds. */
import gases from "../../data/gases.json" with { type: "json" };
import type { VesselNumbers } from "./api.ts";
import type { VesselWarning } from "./warning-api.ts";
import type { VapourField } from "./field.ts";
import { pairDiffusion, gasProperties } from "./gas.ts";
import { settlingWarnings, shown } from "./settling.ts";

const LIMITS = gases.limits;

/** Warnings, heaviest first within each kind of trouble; empty where there is nothing to say. */
export function vesselWarnings(
  field: VapourField,
  numbers: Omit<VesselNumbers, "warnings">,
): VesselWarning[] {
  if (field.regime === "stated") return [];
  return [
    ...gasWarnings(field, numbers),
    ...fogWarnings(numbers),
    ...metalWarnings(field, numbers),
    ...settlingWarnings(field),
  ];
}

function gasWarnings(field: VapourField, numbers: Omit<VesselNumbers, "warnings">): VesselWarning[] {
  const warnings: VesselWarning[] = [];
  const { rayleigh, knudsen } = numbers;
  const onset = LIMITS.rayleigh_onset;
  if (field.regime === "heat-pipe") {
    warnings.push({
      code: "heat-pipe",
      level: "stop",
      sentence: `The metal's vapour pressure at the hottest wall reaches the gas pressure (${shown(field.pressure)} Pa): the vapour displaces the gas and the density shown is the limit p/(kT).`,
      source: "mole fraction p_sat/p ≥ 1: Stefan diffusion has no steady state at rest",
      remedy: { text: "fill more gas or heat less" },
    });
  }
  if (rayleigh > onset.value) {
    warnings.push({
      code: "convection-likely",
      level: rayleigh > 3 * onset.value ? "stop" : "mind",
      sentence: `Convection is likely: the Rayleigh number is ${shown(rayleigh)}, above ${onset.value} where a layer heated from below turns over, so the layers would be stirred and the picture would shimmer.`,
      value: rayleigh,
      threshold: onset.value,
      source: onset.source,
      remedy: {
        text: `lower the gas pressure to below ${shown(field.pressure * Math.sqrt(onset.value / rayleigh))} Pa while hot`,
      },
    });
  }
  if (knudsen > LIMITS.knudsen_continuum.value) {
    const free = knudsen > LIMITS.knudsen_free.value;
    warnings.push({
      code: free ? "free-molecular" : "rarefied",
      level: free ? "stop" : "mind",
      sentence: free
        ? `The atoms fly from wall to wall (Knudsen number ${shown(knudsen)}): there is no diffusion and no standing layers, so the density shown does not hold.`
        : `The gas is thin (Knudsen number ${shown(knudsen)}): near the wall the density deviates from the diffusion model.`,
      value: knudsen,
      threshold: free ? LIMITS.knudsen_free.value : LIMITS.knudsen_continuum.value,
      source: free ? LIMITS.knudsen_free.source : LIMITS.knudsen_continuum.source,
      remedy: { text: "fill more gas" },
    });
  }
  const pair = pairDiffusion(field.input.element, gasProperties(field.input.gas));
  if (pair.kind === "scaled" && numbers.chargeLife !== null) {
    warnings.push({
      code: "diffusion-scaled",
      level: "fine",
      sentence: `The rates of evaporation and the life of the charge rest on diffusion scaled from rubidium, good to ${Math.round(100 * pair.relativeUncertainty)} %; the density does not.`,
      value: pair.relativeUncertainty,
      source: pair.source,
    });
  }
  return warnings;
}

function fogWarnings(numbers: Omit<VesselNumbers, "warnings">): VesselWarning[] {
  const warnings: VesselWarning[] = [];
  const s = numbers.midSupersaturation;
  if (s > LIMITS.fog_refuse.value) {
    warnings.push({
      code: "linear-model-refused",
      level: "stop",
      sentence: `At mid-length the vapour would be ${shown(s)} times saturated: fog will form, and the density on the beam lies between ${shown(numbers.saturatedDensity)} (held at saturation) and ${shown(numbers.density)} per cubic metre (no fog).`,
      value: s,
      threshold: LIMITS.fog_refuse.value,
      source: LIMITS.fog_refuse.source,
      remedy: {
        text: "let the top be warmer: 85 to 150 K below the metal bends almost as much, without smoke",
      },
    });
  } else if (s > LIMITS.fog_warn.value) {
    warnings.push({
      code: "fog-likely",
      level: "mind",
      sentence: `At mid-length the vapour is ${shown(s)} times saturated: smoke may form, and the density may fall as low as ${shown(numbers.saturatedDensity)} per cubic metre.`,
      value: s,
      threshold: LIMITS.fog_warn.value,
      source: LIMITS.fog_warn.source,
      remedy: {
        text: "let the top be warmer: 85 to 150 K below the metal bends almost as much, without smoke",
      },
    });
  }
  if (s <= LIMITS.fog_refuse.value && numbers.supersaturation > LIMITS.fog_refuse.value) {
    warnings.push({
      code: "fog-at-the-ends",
      level: "mind",
      sentence: `Toward the cold ends the vapour on the beam reaches ${shown(numbers.supersaturation)} times saturation: a plug of smoke may stand at each end of the hot length.`,
      value: numbers.supersaturation,
      threshold: LIMITS.fog_refuse.value,
      source: LIMITS.fog_refuse.source,
      remedy: { text: "let the wall cool gradually beyond the heated length" },
    });
  }
  return warnings;
}

function metalWarnings(field: VapourField, numbers: Omit<VesselNumbers, "warnings">): VesselWarning[] {
  const life = numbers.chargeLife;
  if (life === null || life >= 3600) return [];
  return [
    {
      code: "charge-short",
      level: "mind",
      sentence: `The charge lasts ${shown(life / 60)} minutes: the metal settles as a solid at ${shown(numbers.solidLoss * 3.6e6)} g an hour and does not run back.`,
      value: life,
      threshold: 3600,
      source: `diffusion of ${field.input.element} in ${field.input.gas}, this tube`,
      remedy: { text: "load more metal, or warm the cold parts above the melting point" },
    },
  ];
}
