/**
 * Light through a row of plane faces: Snell's law in three dimensions, and in the plane of dispersion alone where that is enough.
 * Every face's normal lies in the x–z plane, at `tilt` from +z towards +x; z runs along the light.
 */
import { asin, cos, sin } from "../numerics/elementary/index.ts";

/** A row of plane faces; medium i lies before face i, so there is one medium more than faces. */
export interface PrismTrain {
  /** angle of each face's normal from +z towards +x, rad */
  readonly tilts: readonly number[];
  /** index into the list of glasses for the medium before each face and after the last; −1 = air */
  readonly media: readonly number[];
}

/**
 * Direction of a ray in the plane of dispersion after the train.
 * @param train faces and media
 * @param indices refractive index of each glass relative to the air around
 * @param angle direction of the ray from +z towards +x, rad
 * @returns direction after the last face, rad; NaN where the light is totally reflected or misses a face's front (callers turn
 *   that into a stated limit)
 */
export function angleAfter(train: PrismTrain, indices: readonly number[], angle: number): number {
  let phi = angle;
  let before = indexOf(indices, train.media[0]);
  for (let i = 0; i < train.tilts.length; i++) {
    const after = indexOf(indices, train.media[i + 1]);
    const tilt = train.tilts[i];
    const sine = (before / after) * sin(phi - tilt);
    if (Math.abs(sine) >= 1 || Math.abs(phi - tilt) >= Math.PI / 2) return NaN;
    phi = tilt + asin(sine);
    before = after;
  }
  return phi;
}

/**
 * Direction of a ray in space after the train, by the vector form of Snell's law at each face (Born & Wolf, "Principles of Optics").
 * @param direction unit vector [x, y, z], overwritten with the direction after the last face
 * @returns false where the light is totally reflected or misses a face's front; `direction` is then of no use
 */
export function directionAfter(
  train: PrismTrain,
  indices: readonly number[],
  direction: Float64Array,
): boolean {
  let before = indexOf(indices, train.media[0]);
  for (let i = 0; i < train.tilts.length; i++) {
    const after = indexOf(indices, train.media[i + 1]);
    const nx = sin(train.tilts[i]);
    const nz = cos(train.tilts[i]);
    const cosine = direction[0] * nx + direction[2] * nz;
    if (cosine <= 0) return false;
    const ratio = before / after;
    const square = 1 - ratio * ratio * (1 - cosine * cosine);
    if (square <= 0) return false;
    const along = Math.sqrt(square) - ratio * cosine;
    direction[0] = ratio * direction[0] + along * nx;
    direction[1] = ratio * direction[1];
    direction[2] = ratio * direction[2] + along * nz;
    before = after;
  }
  return true;
}

function indexOf(indices: readonly number[], medium: number): number {
  return medium < 0 ? 1 : indices[medium];
}
