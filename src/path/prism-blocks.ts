/** Blocks of glass that a train of faces is cut from: how high they must be, where their faces stand, and the way of light through them. */
import { asin, hypot, sin, tan } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { PrismTrain } from "./prism.ts";

/** Blocks higher than this many apertures are not made. */
const HIGHEST = 20;
/** How far aside the second ray comes in that says where all others go, in heights of the blocks. */
const ASIDE = 0.1;

/**
 * How high the blocks must be, and where on the entrance face the middle of the beam must come in, so that the whole beam of every colour asked for meets every face within them.
 *
 * All lengths grow with the height H, and a ray that comes in at height e meets face i at p_i·H + q_i·e (straight lines through plane faces). A beam from e − a/2 to e + a/2 stays within ±H/2
 * as far as a/2 ≤ U·H − e and a/2 ≤ L·H + e, with U the least (1/2 − p_i)/q_i and L the least (1/2 + p_i)/q_i over faces and colours: at best H = a/(U + L), e = H·(U − L)/2.
 * @param colours indices of the glasses at each colour; colours that are totally reflected do not count
 * @param aperture height of the beam, m
 * @throws Refusal where no block up to twenty apertures high holds it, or no colour passes
 */
export function blockOf(
  train: PrismTrain,
  colours: readonly (readonly [number, number])[],
  aperture: number,
): { height: number; entrance: number } {
  const places = facePlaces(train.tilts, train.media, 1);
  const faces = train.tilts.length;
  let up = Infinity;
  let low = Infinity;
  for (const indices of colours) {
    const middle = axisRay(train, indices, places, 0, 0);
    const other = axisRay(train, indices, places, 0, ASIDE);
    // Entrance, every face and the end: a ray that ends early is totally reflected.
    if (middle.length < faces + 2) continue;
    for (let i = 1; i <= faces; i++) {
      const p = middle[i][1];
      const q = (other[i][1] - p) / ASIDE;
      up = Math.min(up, (0.5 - p) / q);
      low = Math.min(low, (0.5 + p) / q);
    }
  }
  // The widest beam that blocks of height 1 hold.
  const widest = up + low;
  if (widest * HIGHEST >= 1 && Number.isFinite(widest))
    return { height: aperture / widest, entrance: (aperture / widest) * ((up - low) / 2) };
  throw new Refusal({
    code: "prism-impossible",
    field: "path.disperser.flintApex",
    received: "a train in which the beam climbs as high as the glass",
    expected: "a smaller flint apex, so that the beam of every colour stays inside the blocks",
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
