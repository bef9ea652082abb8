/** Gas and vapour on the beam as the setup has them: what the lines owe to pressure and temperature, and the gradient's shape. */
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
  /** how the gradient grows from the beam's middle to its upper edge, and falls to the lower one, share; null: nothing is known of it */
  readonly change: number | null;
  /** how the gradient falls off from the beam's middle to both its edges alike, share: t² in G(1 + change·t + bow·t²) */
  readonly bow: number;
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

/** Heights in half beams at which the gradient's shape is taken: as far inside as outside of its r.m.s. height. */
const SHAPE = [-0.8, 0, 0.8];

/** Beyond this a beam's gradient is no gentle hill any more, and the vessel's word on it counts for nothing. */
const STEEPEST_BOW = 0.2;

/**
 * With a collision width entered by hand the vapour is taken as even over the heated length at the mean of bottom and
 * top; otherwise the vessel is solved on a coarse grid, which also turns a cold filling into the hot pressure and knows
 * the vapour's tails beyond the heated length: without them self-broadening comes out 5–15 % too strong. The shape of the
 * gradient is the solved vessel's in either case: it hangs on bore and hot strip, hardly on temperatures.
 */
export function gasConditions(setup: Setup): GasConditions {
  const { wall } = setup.vessel;
  const simple = {
    pressure: setup.vessel.gasPressure,
    temperature: (wall.bottom + wall.top) / 2,
    length: setup.vessel.heatedLength,
    change: null,
    bow: 0,
    source: "the mean of bottom and top, the heated length",
  };
  try {
    const { beamHeight, beamSize } = setup.path;
    const field = solveVapour(setup.vessel, COARSE_GRID);
    const columns = beamColumns(
      field,
      Float64Array.from(SHAPE, (t) => beamHeight + (t * beamSize) / 2),
    );
    const [below, middle, above] = columns.columnGradient;
    const found = middle === 0 ? 0 : ((below + above) / (2 * middle) - 1) / SHAPE[2] ** 2;
    const gentle = Math.abs(found) < STEEPEST_BOW && middle !== 0;
    const bow = gentle ? found : 0;
    const change = gentle ? (above - below) / (2 * middle * SHAPE[2]) : null;
    if (metalOf(setup, "a reading").overrides.gasWidth !== undefined) return { ...simple, change, bow };
    return {
      pressure: Math.max(0, vesselNumbers(field, beamHeight).gasPartialPressure),
      temperature: columns.effectiveTemperature[1],
      length: columns.columnDensity[1] / columns.effectiveDensity[1],
      change,
      bow,
      source: SOURCE[setup.vessel.contents?.kind ?? "tube"],
    };
  } catch (error) {
    // A vessel that cannot be solved (heat-pipe regime, say) still has a picture that can be read.
    if (error instanceof Refusal) return simple;
    throw error;
  }
}
