/** Gas around the vapour while the picture was taken: what its lines owe to pressure and temperature. */
import { metalOf } from "../setup/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import { beamColumns, COARSE_GRID, solveVapour, vesselNumbers } from "../vessel/index.ts";

export interface GasConditions {
  /** partial pressure of the buffer gas on the beam, Pa */
  readonly pressure: number;
  /** gas temperature on the beam, K */
  readonly temperature: number;
  /** length over which the column density would stand if it were as dense as it acts, ∫N dz squared over ∫N² dz, m */
  readonly length: number;
  /** where they come from, for the list of assumptions */
  readonly source: string;
}

/** What of the setup the conditions rest on, by kind of vessel. */
const SOURCE = {
  tube: "the setup's wall temperatures",
  cell: "the cell's side arm, body and gas as the setup gives them",
  flame: "the flame as the setup gives it",
  prism: "the setup",
} as const;

/**
 * With a collision width entered by hand the vapour is taken as even over the heated length at the mean of bottom and
 * top; otherwise the vessel is solved on a coarse grid, which also turns a cold filling into the hot pressure and knows
 * the vapour's tails beyond the heated length: without them self-broadening comes out 5–15 % too strong.
 */
export function gasConditions(setup: Setup): GasConditions {
  const { wall } = setup.vessel;
  const mean = (wall.bottom + wall.top) / 2;
  const simple = {
    pressure: setup.vessel.gasPressure,
    temperature: mean,
    length: setup.vessel.heatedLength,
    source: "the mean of bottom and top, the heated length",
  };
  if (metalOf(setup, "a reading").overrides.gasWidth !== undefined) return simple;
  try {
    const field = solveVapour(setup.vessel, COARSE_GRID);
    const columns = beamColumns(field, Float64Array.of(setup.path.beamHeight));
    return {
      pressure: Math.max(0, vesselNumbers(field, setup.path.beamHeight).gasPartialPressure),
      temperature: columns.effectiveTemperature[0],
      length: columns.columnDensity[0] / columns.effectiveDensity[0],
      source: SOURCE[setup.vessel.contents?.kind ?? "tube"],
    };
  } catch (error) {
    // A vessel that cannot be solved (heat-pipe regime, say) still has a picture that can be read.
    if (error instanceof Refusal) return simple;
    throw error;
  }
}
