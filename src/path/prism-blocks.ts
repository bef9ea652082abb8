/** Blocks of glass that a train of faces is cut from: how high they must be, where their faces stand, and the way of light through them. */
import { asin, hypot, sin, tan } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { PrismTrain } from "./prism.ts";

/** Blocks higher than this many apertures are not made. */
const HIGHEST = 20;

/**
 * How high the blocks must be, and where on the entrance face the middle of the beam must come in so that it stays inside: light climbs a fixed share of the
 * height, since all lengths grow with it.
 * @throws Refusal where it climbs nearly the whole height, whatever the height
 */
export function blockOf(
  train: PrismTrain,
  indices: readonly [number, number],
  aperture: number,
): { height: number; entrance: number } {
  const places = facePlaces(train.tilts, train.media, 1);
  let entrance = 0;
  let climb = 0;
  for (let round = 0; round < 50; round++) {
    const heights = axisRay(train, indices, places, 0, entrance).map(([, x]) => x);
    const low = Math.min(...heights);
    const high = Math.max(...heights);
    climb = high - low;
    if (Math.abs(low + high) < 1e-12) break;
    entrance -= (low + high) / 2;
  }
  const height = aperture / (1 - climb);
  if (climb < 1 && height <= HIGHEST * aperture) return { height, entrance: entrance * height };
  throw new Refusal({
    code: "prism-impossible",
    field: "path.disperser.flintApex",
    received: "a train in which the light climbs as high as the glass",
    expected: "a smaller flint apex, so that the beam stays inside the blocks",
  });
}

/**
 * Where each face crosses the axis, m from the first: far enough apart that no two faces meet within the aperture; trains stand a quarter of the aperture
 * apart.
 */
export function facePlaces(tilts: readonly number[], media: readonly number[], aperture: number): number[] {
  const places = [0];
  for (let i = 1; i < tilts.length; i++) {
    const wedge = Math.abs(tan(tilts[i]) - tan(tilts[i - 1])) * (aperture / 2);
    const gap = media[i] < 0 ? aperture / 4 : aperture / 20;
    places.push(places[i - 1] + wedge + gap);
  }
  return places;
}

/**
 * Path of a ray along the axis in [z, x], from half an aperture before the first face to two apertures after the last.
 * @param entrance height at which it comes in, m
 */
export function axisRay(
  { tilts, media }: PrismTrain,
  indices: readonly [number, number],
  places: readonly number[],
  aperture: number,
  entrance: number,
): (readonly [number, number])[] {
  let z = places[0] - tan(tilts[0]) * entrance - aperture / 2;
  let x = entrance;
  const points: (readonly [number, number])[] = [[z, x]];
  let phi = 0;
  let before = 1;
  for (let i = 0; i < tilts.length; i++) {
    // Ray x = x0 + tan φ (z − z0) meets the face z = place − tan(tilt)·x.
    const slope = tan(phi);
    const lean = tan(tilts[i]);
    const meet = (places[i] - lean * (x - slope * z)) / (1 + lean * slope);
    x += slope * (meet - z);
    z = meet;
    points.push([z, x]);
    const after = media[i + 1] < 0 ? 1 : indices[media[i + 1]];
    const sine = (before / after) * sin(phi - tilts[i]);
    if (Math.abs(sine) >= 1) return points;
    phi = tilts[i] + asin(sine);
    before = after;
  }
  points.push([z + 2 * aperture, x + 2 * aperture * tan(phi)]);
  return points;
}

/** Length of the way in each glass, m, one per medium of the train; faces that the ray does not reach add nothing. */
export function waysInGlass(
  train: PrismTrain,
  points: readonly (readonly [number, number])[],
  glasses: number,
): number[] {
  const out = new Array<number>(glasses).fill(0);
  for (let i = 1; i + 1 < points.length && i < train.tilts.length; i++) {
    const medium = train.media[i];
    if (medium >= 0) out[medium] += hypot(points[i + 1][0] - points[i][0], points[i + 1][1] - points[i][1]);
  }
  return out;
}
