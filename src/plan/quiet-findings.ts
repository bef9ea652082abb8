/** What does not spoil the picture, with the number that says so: a check that finds nothing is told like one that finds. */
import gases from "../../data/gases.json" with { type: "json" };
import { saturationPressure, vapourWarnings } from "../medium/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import { metalOf, type Forecast, stateOf } from "../setup/index.ts";
import type { Finding } from "./finding.ts";
import { COMMON, digits } from "./words.ts";

/** Vapour below this pressure has few molecules, Pa; vapour below this share of the gas does not drive it away. */
export const DIMERS_FROM = 100;
export const SHARE_FROM = 0.3;

export function quietFindings(forecast: Forecast): Finding[] {
  return [...convection(forecast), ...fog(forecast), ...heatPipe(forecast), ...dimers(forecast)];
}

function convection({ vapour }: Forecast): Finding[] {
  const { rayleigh } = vapour.numbers;
  const { value: onset, source } = gases.limits.rayleigh_onset;
  if (rayleigh > onset) return [];
  return [
    fine(
      "no-convection",
      `The gas stays in layers: the Rayleigh number is ${digits(rayleigh, 2)}, a layer turns over from ${onset}.`,
      rayleigh,
      onset,
      source,
    ),
  ];
}

function fog({ vapour }: Forecast): Finding[] {
  const { midSupersaturation } = vapour.numbers;
  const { value: most, source } = gases.limits.fog_warn;
  if (midSupersaturation > most) return [];
  return [
    fine(
      "no-fog",
      `No smoke is to be expected on the beam: the vapour is ${digits(midSupersaturation, 2)} times saturated at mid-length.`,
      midSupersaturation,
      most,
      source,
    ),
  ];
}

function heatPipe({ setup, vapour }: Forecast): Finding[] {
  const share = metalShare({ setup, vapour });
  if (vapour.field.regime === "heat-pipe" || share >= SHARE_FROM) return [];
  return [
    fine(
      "gas-holds",
      `The gas holds its place: the metal's vapour makes ${digits(100 * share, 2)} % of the pressure at the hottest wall.`,
      share,
      SHARE_FROM,
      COMMON,
    ),
  ];
}

/** Metal's saturation pressure at the hottest wall over the pressure in the tube. */
export function metalShare({ setup, vapour }: Pick<Forecast, "setup" | "vapour">): number {
  const { wall, pressureEquation } = setup.vessel;
  return (
    saturationPressure(metalOf(setup, "this finding").element, wall.bottom, pressureEquation) /
    vapour.field.pressure
  );
}

function dimers({ vapour }: Forecast): Finding[] {
  const state = stateOf(vapour, "this finding");
  if (vapourWarnings(state, 0).some((warning) => warning.code === "dimers-likely")) return [];
  const pressure = state.density * BOLTZMANN * state.temperature;
  return [
    {
      ...fine(
        "no-dimers",
        pressure < DIMERS_FROM
          ? `Bands of molecules need not be feared: the vapour on the beam has ${digits(pressure, 2)} Pa.`
          : `Bands of molecules are those of alkali vapours; ${state.element} has ${digits(pressure, 2)} Pa on the beam.`,
        pressure,
        DIMERS_FROM,
        COMMON,
      ),
      unit: "Pa",
    },
  ];
}

function fine(code: string, sentence: string, value: number, threshold: number, source: string): Finding {
  return { code, level: "fine", sentence, value, threshold, unit: "1", source };
}
