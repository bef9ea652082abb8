/** Light through a hollow wedge with plane-parallel walls: where it goes, and how far it runs in the liquid. */
import { asin, cos, sin, tan } from "../numerics/elementary/index.ts";

export interface Wedge {
  /** angle between the inner faces, rad */
  readonly apex: number;
  /** angle of incidence on the first face, rad; positive where the light strikes along the face towards the edge */
  readonly incidence: number;
  /** m */
  readonly wallThickness: number;
}

export interface WedgePassage {
  /** rad, away from the edge */
  readonly deviation: number;
  /** way in the liquid, m, of light that would pass the liquid's edge at a distance of 0 */
  readonly pathAtEdge: number;
  /** way in the liquid gained for each metre of distance from the edge, across the light, 1 */
  readonly pathPerDistance: number;
}

/**
 * Snell's law at each face: sin i = n sin r₁, r₂ = A − r₁, sin i₂ = n sin r₂, deviation i + i₂ − A (Born & Wolf, Principles
 * of Optics, section 4.7.2). Plane-parallel walls turn nothing; they shift the light along the first face by
 * t (tan i − tan g), sin i = n_wall sin g. From the place s = h/cos i + shift on the inner face the way in the liquid is
 * s sin A/cos r₂ (law of sines), h the distance of the incoming light from the liquid's edge.
 * @param liquid index of the liquid relative to the air around
 * @param wall the same of the walls
 * @returns undefined where the light is totally reflected
 */
export function throughWedge(wedge: Wedge, liquid: number, wall: number): WedgePassage | undefined {
  const { apex, incidence, wallThickness } = wedge;
  const first = asin(sin(incidence) / liquid);
  const second = apex - first;
  const sine = liquid * sin(second);
  if (!(Math.abs(sine) < 1)) return undefined;
  const perFace = sin(apex) / cos(second);
  const inWall = asin(sin(incidence) / wall);
  return {
    deviation: incidence + asin(sine) - apex,
    pathAtEdge: wallThickness * (tan(incidence) - tan(inWall)) * perFace,
    pathPerDistance: perFace / cos(incidence),
  };
}

/** Angle of incidence at which light of this index deviates least, rad: sin i = n sin(A/2); NaN where none passes. */
export function leastIncidence(apex: number, liquid: number): number {
  return asin(liquid * sin(apex / 2));
}
