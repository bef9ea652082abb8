/**
 * Direct-vision prisms: angles of the outer crown prisms such that one chosen colour leaves as it came in.
 * Three glasses: crown–flint–crown, mirror-symmetric, the chosen colour crossing the flint parallel to the axis.
 * Five: crown–flint–crown–flint–crown, mirror-symmetric, each flint crossed at its own least deviation and the middle crown parallel to the axis.
 */
import { asin, atan, cos, sin } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { PrismTrain } from "./prism.ts";

export interface DirectVisionDesign {
  /** faces of all trains, one behind the other */
  readonly train: PrismTrain;
  /** apex angle of the outer crown prisms, rad */
  readonly crownApex: number;
  /** apex angle of the middle crown of a five-element train, rad; null for three elements */
  readonly middleApex: number | null;
  /** tilts of one train's faces, rad */
  readonly tilts: readonly number[];
}

/**
 * Angles of a direct-vision train.
 *
 * With the chosen colour travelling in the last crown at −φ to the axis, a last face tilted by −u sends it out along the axis when
 * sin u = n_c sin(u − φ), that is tan u = n_c sin φ / (n_c cos φ − 1).
 * @param crownIndex index of the crown at the undeviated wavelength, relative to air
 * @param flintIndex index of the flint there
 * @param flintApex apex angle of each flint, rad
 * @throws Refusal where the chosen colour cannot pass (total reflection between flint and crown, or no exit face turns it back)
 */
export function directVision(
  crownIndex: number,
  flintIndex: number,
  flintApex: number,
  elements: 3 | 5,
  trains: 1 | 2,
): DirectVisionDesign {
  const bend = anglePastFlint(crownIndex, flintIndex, flintApex);
  // Least deviation in each flint: the ray turns by 2·bend in glass; a three-element train starts and ends halfway.
  const before = elements === 3 ? bend : 2 * bend;
  const forward = crownIndex * cos(before) - 1;
  if (forward <= 0)
    throw refused(
      flintApex,
      "a flint apex small enough for an outer crown to turn the light back to the axis",
    );
  const exit = atan((crownIndex * sin(before)) / forward);
  const half = flintApex / 2;
  const tilts =
    elements === 3
      ? [exit, -half, half, -exit]
      : [exit, bend - half, bend + half, -bend - half, -bend + half, -exit];
  const media = elements === 3 ? [-1, 0, 1, 0, -1] : [-1, 0, 1, 0, 1, 0, -1];
  return {
    train: repeat({ tilts, media }, trains),
    crownApex: tilts[0] - tilts[1],
    middleApex: elements === 3 ? null : 2 * (bend + half),
    tilts,
  };
}

/** Angle to the axis in the crown, before and after a flint crossed symmetrically, rad, positive. */
function anglePastFlint(crownIndex: number, flintIndex: number, flintApex: number): number {
  const half = flintApex / 2;
  const sine = (flintIndex / crownIndex) * sin(half);
  if (sine >= 1) {
    const largest = 2 * asin(crownIndex / flintIndex);
    throw refused(
      flintApex,
      `a flint apex below ${degrees(largest)}, where total reflection at the crown begins`,
    );
  }
  return asin(sine) - half;
}

function repeat(train: PrismTrain, count: 1 | 2): PrismTrain {
  if (count === 1) return train;
  return { tilts: [...train.tilts, ...train.tilts], media: [...train.media, ...train.media.slice(1)] };
}

function refused(flintApex: number, expected: string): Refusal {
  return new Refusal({
    code: "prism-impossible",
    field: "path.disperser.flintApex",
    received: degrees(flintApex),
    expected,
    hint: "take a smaller flint apex or a crown with a higher index",
  });
}

function degrees(angle: number): string {
  return `${((angle * 180) / Math.PI).toFixed(1)} deg`;
}
