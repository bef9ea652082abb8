/** Where everything stands along the rail, in metres from the lamp; pure geometry for the drawing. */
import type { Setup } from "../../setup/api.ts";
import type { ElementId } from "../state/bench.ts";

export interface Place {
  readonly id: ElementId;
  /** beginning and end along the light, m */
  readonly from: number;
  readonly to: number;
}

/** Stretches that a setup does not give, drawn at usual lengths, m. */
const LAMP_TO_CONDENSER = 0.14;
const CONDENSER_TO_SLIT = 0.16;
const AIR = 0.07;
const LENS = 0.008;

export function placesOf(setup: Setup): readonly Place[] {
  const { path, vessel } = setup;
  const places: Place[] = [];
  let z = 0;
  const put = (id: ElementId, length: number, after: number): void => {
    places.push({
      id,
      from: z - (length === LENS ? LENS / 2 : 0),
      to: z + (length === LENS ? LENS / 2 : length),
    });
    z += (length === LENS ? 0 : length) + after;
  };
  put("lamp", 0, LAMP_TO_CONDENSER);
  put("condenser", LENS, CONDENSER_TO_SLIT);
  put("level-slit", 0, path.collimatorFocalLength);
  put("collimator", LENS, AIR);
  put("tube", vessel.length, AIR);
  put("focusing-lens", LENS, path.focalLength);
  put("plumb-slit", 0, path.secondCollimatorFocalLength);
  put("second-collimator", LENS, AIR);
  put("disperser", disperserLength(setup), AIR);
  put("camera-lens", LENS, path.cameraFocalLength);
  put("camera", 0, 0);
  return places;
}

/** Length of the glass along the light for faces 25 mm tall; a grating is thin. */
export function disperserLength(setup: Setup): number {
  const { disperser } = setup.path;
  if (disperser.kind !== "direct-vision") return LENS;
  const base = 2 * 0.0125 * Math.tan(disperser.flintApex / 2);
  const flints = (disperser.elements - 1) / 2;
  return disperser.trains * (flints * base * 2 + 0.012);
}

export function placeOf(places: readonly Place[], id: ElementId): Place {
  const found = places.find((place) => place.id === id);
  if (found === undefined) throw new Error(`no place for ${id}`);
  return found;
}
