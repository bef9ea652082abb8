/** First stage of the forward chain: the vapour of a metal in its vessel. */
import { cos } from "../numerics/elementary/index.ts";
import type { VapourState } from "../medium/index.ts";
import { beamStrips } from "../path/index.ts";
import { beamColumns, solveVapour, vesselNumbers, wallReadings } from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import { metalOf } from "./metal.ts";
import { rolledColumns } from "./rolled.ts";
import { BEAM_SLICES, type ForecastOptions, type MetalStage } from "./stages.ts";

/** Refuses a prism with dye: see `vapourStage`. */
export function metalStage(setup: Setup, options: ForecastOptions = {}): MetalStage {
  const { element, structure, overrides } = metalOf(setup, "a vapour's stage");
  const shell = options.shell ?? setup.steady;
  const vessel =
    options.shell === undefined
      ? setup.vessel
      : {
          ...setup.vessel,
          map: options.shell,
          wall: { ...setup.vessel.wall, ...wallReadings(options.shell) },
        };
  const field = solveVapour(vessel, options.grid, options.previous, options.tolerance);
  const slices = options.slices ?? BEAM_SLICES;
  const { heights, weights } = beamStrips(setup.path, slices);
  const roll = setup.path.tubeRoll ?? 0;
  const columns = rolledColumns((at) => beamColumns(field, at), heights, roll);
  const m = (slices - 1) / 2;
  const alone = vesselNumbers(field, setup.path.beamHeight * cos(roll));
  const numbers =
    shell?.warnings === undefined ? alone : { ...alone, warnings: [...alone.warnings, ...shell.warnings] };
  const state: VapourState = {
    element,
    density: columns.effectiveDensity[m],
    temperature: columns.effectiveTemperature[m],
    gas: { species: setup.vessel.gas, pressure: Math.max(0, numbers.gasPartialPressure) },
    structure,
    overrides,
  };
  return {
    field,
    ...(shell === undefined ? {} : { shell }),
    columns,
    weights,
    numbers,
    state,
    middle: {
      columnDensity: columns.columnDensity[m],
      columnGradient: columns.columnGradient[m],
      gasColumnGradient: columns.gasColumnGradient[m],
    },
  };
}
