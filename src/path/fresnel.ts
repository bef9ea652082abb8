/** Light lost by reflection where glass meets air or another glass. */
import { asin, cos, sin } from "../numerics/elementary/index.ts";
import type { PrismTrain } from "./prism.ts";

/**
 * Share of unpolarised light that passes a smooth face (Fresnel's equations, mean of both polarisations; Born & Wolf, "Principles of Optics").
 * @param before, after refractive indices on either side
 * @param incidence angle between ray and normal before the face, rad, 0…π/2
 * @returns 0 (total reflection) … 1
 */
export function fresnelTransmission(before: number, after: number, incidence: number): number {
  const sine = (before / after) * sin(incidence);
  if (sine >= 1) return 0;
  const a = cos(incidence);
  const b = Math.sqrt(1 - sine * sine);
  const senkrecht = (before * a - after * b) / (before * a + after * b);
  const parallel = (after * a - before * b) / (after * a + before * b);
  return 1 - (senkrecht * senkrecht + parallel * parallel) / 2;
}

/** What becomes of a ray in the plane of dispersion on its way through a train of faces. */
export interface TrainPassage {
  /** share of unpolarised light that passes all faces, single passes only (no light reflected twice), 1 */
  readonly transmission: number;
  /** the face where the ray comes nearest to total reflection, and by how much it stays clear of it, rad; ∞ where none can occur */
  readonly margin: number;
  readonly tightestFace: number;
  /** angles of incidence, rad, one per face */
  readonly incidences: readonly number[];
  /** direction after the last face, rad; NaN where the light is totally reflected */
  readonly angle: number;
}

/**
 * Losses and margins of one ray through the train.
 * @param indices index of each glass relative to air
 * @param angle direction before the first face, rad
 */
export function passThrough(train: PrismTrain, indices: readonly number[], angle: number): TrainPassage {
  let phi = angle;
  let transmission = 1;
  let margin = Infinity;
  let tightestFace = -1;
  const incidences: number[] = [];
  for (let i = 0; i < train.tilts.length; i++) {
    const before = train.media[i] < 0 ? 1 : indices[train.media[i]];
    const after = train.media[i + 1] < 0 ? 1 : indices[train.media[i + 1]];
    const incidence = phi - train.tilts[i];
    incidences.push(Math.abs(incidence));
    if (after < before) {
      const clear = asin(after / before) - Math.abs(incidence);
      if (clear < margin) {
        margin = clear;
        tightestFace = i;
      }
    }
    transmission *= fresnelTransmission(before, after, Math.abs(incidence));
    const sine = (before / after) * sin(incidence);
    if (Math.abs(sine) >= 1) return { transmission: 0, margin, tightestFace, incidences, angle: NaN };
    phi = train.tilts[i] + asin(sine);
  }
  return { transmission, margin, tightestFace, incidences, angle: phi };
}
