/** Where everything stands along the rail, in metres from the lamp, and what moves with it when it is dragged. */
import { benchElements, type BenchElementKind } from "../../path/index.ts";
import { parseQuantity } from "../../quantity/index.ts";
import type { Setup } from "../../setup/api.ts";
import type { ElementId } from "../state/bench.ts";

export interface Place {
  readonly id: ElementId;
  /** beginning and end along the light, m */
  readonly from: number;
  readonly to: number;
}

/** Length along the light to which a lens is drawn, m. */
const LENS = 0.008;
const LENSES: ReadonlySet<ElementId> = new Set([
  "condenser",
  "collimator",
  "focusing-lens",
  "second-collimator",
  "camera-lens",
]);

function idOf(kind: BenchElementKind): ElementId {
  return kind === "source" ? "lamp" : kind === "sensor" ? "camera" : kind;
}

export function placesOf(setup: Setup): readonly Place[] {
  const { elements } = benchElements(setup.path, setup.vessel);
  const lamp = elements[0].z;
  return elements.map(({ kind, z, length }) => {
    const id = idOf(kind);
    const half = (LENSES.has(id) ? LENS : length) / 2;
    return { id, from: z - lamp - half, to: z - lamp + half };
  });
}

export function placeOf(places: readonly Place[], id: ElementId): Place {
  const found = places.find((place) => place.id === id);
  if (found === undefined) throw new Error(`no place for ${id}`);
  return found;
}

/** The two distances of the rail beside something that moves; what lies beyond them stays where it is. */
interface Reins {
  /** distance that grows when it moves towards the camera; undefined at the lamp's end */
  readonly before?: string;
  /** distance that shrinks; undefined at the camera's end */
  readonly after?: string;
}

const rail = (name: string): string => `path.rail.${name}`;
const SLIT_AND_LENS: Reins = { before: rail("condenserToSlit"), after: rail("collimatorToTube") };
const RELAY: Reins = { before: rail("tubeToLens"), after: rail("collimatorToDisperser") };
const CAMERA: Reins = { before: rail("disperserToCamera") };

/**
 * What changes when a thing is dragged. A lens keeps its focal distance from its slit, so the two move together: the level
 * slit with the collimator, the plumb slit with the lenses on either side of it, the camera with its lens.
 */
const REINS: Readonly<Record<ElementId, Reins>> = {
  lamp: { after: rail("lampToCondenser") },
  condenser: { before: rail("lampToCondenser"), after: rail("condenserToSlit") },
  "level-slit": SLIT_AND_LENS,
  collimator: SLIT_AND_LENS,
  tube: { before: rail("collimatorToTube"), after: rail("tubeToLens") },
  "focusing-lens": RELAY,
  "plumb-slit": RELAY,
  "second-collimator": RELAY,
  disperser: { before: rail("collimatorToDisperser"), after: rail("disperserToCamera") },
  "camera-lens": CAMERA,
  camera: CAMERA,
};

/** Steps in which things are moved, m: a rail's millimetre scale, and its finest reading. */
export const STEP = 0.01;
export const FINE_STEP = 0.001;

/**
 * Fields that a move along the rail sets, as text, or undefined where nothing moves. Positions snap to whole steps of the
 * distance in front; a move ends where a distance would leave its range.
 * @param by metres towards the camera
 * @param step m
 */
export function moved(
  setup: Setup,
  id: ElementId,
  by: number,
  step: number,
): Readonly<Record<string, string>> | undefined {
  const { before, after } = REINS[id];
  const lead = before ?? after;
  if (lead === undefined) return undefined;
  const sign = before === undefined ? -1 : 1;
  const now = distanceOf(setup, lead);
  let next = Math.max(SHORTEST, Math.round((now + sign * by) / step) * step);
  if (before !== undefined && after !== undefined) {
    const room = now + distanceOf(setup, after);
    next = Math.min(next, room - SHORTEST);
    return next === now ? undefined : { [before]: written(next), [after]: written(room - next) };
  }
  return next === now ? undefined : { [lead]: written(next) };
}

/** The fields that a move sets, as they stand. */
export function stood(setup: Setup, id: ElementId): Readonly<Record<string, string>> {
  const { before, after } = REINS[id];
  return Object.fromEntries(
    [before, after].flatMap((path) => (path === undefined ? [] : [[path, written(distanceOf(setup, path))]])),
  );
}

/** The setup with distances of the rail as a move wrote them. */
export function railed(setup: Setup, values: Readonly<Record<string, string>>): Setup {
  const rail = Object.fromEntries(
    Object.entries(values).map(([path, text]) => [
      path.slice("path.rail.".length),
      parseQuantity(text, "m", path),
    ]),
  );
  return { ...setup, path: { ...setup.path, rail: { ...setup.path.rail, ...rail } } };
}

/** Nothing stands closer than this, m. */
const SHORTEST = 0.01;

function distanceOf(setup: Setup, path: string): number {
  return setup.path.rail[path.slice("path.rail.".length) as keyof Setup["path"]["rail"]];
}

function written(metres: number): string {
  return `${Number((metres * 1e3).toFixed(3))} mm`;
}
