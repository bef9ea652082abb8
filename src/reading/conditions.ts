/** Gas around the vapour while the picture was taken: what its lines owe to pressure and temperature. */
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import { beamColumns, COARSE_GRID, solveVapour, vesselNumbers } from "../vessel/index.ts";

export interface GasConditions {
  /** partial pressure of the buffer gas on the beam, Pa */
  readonly pressure: number;
  /** gas temperature on the beam, K */
  readonly temperature: number;
  /** where the two come from, for the list of assumptions */
  readonly source: string;
}

/**
 * With a collision width entered by hand only the Doppler width depends on the conditions, and the mean of bottom and
 * top will do; otherwise the vessel is solved on a coarse grid, which also turns a cold filling into the hot pressure.
 */
export function gasConditions(setup: Setup): GasConditions {
  const { wall } = setup.vessel;
  const mean = (wall.bottom + wall.top) / 2;
  const simple = {
    pressure: setup.vessel.gasPressure,
    temperature: mean,
    source: "the mean of bottom and top",
  };
  if (setup.medium.overrides.gasWidth !== undefined) return simple;
  try {
    const field = solveVapour(setup.vessel, COARSE_GRID);
    const columns = beamColumns(field, Float64Array.of(setup.path.beamHeight));
    return {
      pressure: Math.max(0, vesselNumbers(field, setup.path.beamHeight).gasPartialPressure),
      temperature: columns.effectiveTemperature[0],
      source: "the setup's wall temperatures",
    };
  } catch (error) {
    // A vessel that cannot be solved (heat-pipe regime, say) still has a picture that can be read.
    if (error instanceof Refusal) return simple;
    throw error;
  }
}
