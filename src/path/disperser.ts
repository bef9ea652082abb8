/** What each kind of disperser does to a ray: one small interface, so that the spectral map need not know glass from grating. */
import { Refusal } from "../quantity/refusal.ts";
import type { DisperserInput } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { glassOf } from "./glass.ts";
import { angleAfter, directionAfter, type PrismTrain } from "./prism.ts";

/** The bending part of a disperser. Angles in the plane of dispersion, from +z towards +x. */
export interface Disperser {
  /** angle after the disperser of light that came in at `incoming`, rad; NaN where none comes through */
  angle(wavelength: number, incoming: number): number;
  /** direction in space after it, in place; false where none comes through */
  direction(wavelength: number, direction: Float64Array): boolean;
  /** where the formula for the material ends, m */
  readonly shortest: number;
  readonly longest: number;
  /** why no light comes through beyond the last wavelength that does */
  readonly limit: string;
}

export type BendingDisperser = Exclude<DisperserInput, { kind: "linear" }>;

export function disperserOf(input: BendingDisperser): Disperser {
  return input.kind === "grating" ? grating(input) : directVisionPrism(input);
}

function directVisionPrism(input: Extract<DisperserInput, { kind: "direct-vision" }>): Disperser {
  const crown = glassOf(input.crown, "path.disperser.crown");
  const flint = glassOf(input.flint, "path.disperser.flint");
  const { train } = directVision(
    crown.index(input.undeviated),
    flint.index(input.undeviated),
    input.flintApex,
    input.elements,
    input.trains,
  );
  return glassTrain(
    train,
    [(w) => crown.index(w), (w) => flint.index(w)],
    Math.max(crown.shortest, flint.shortest),
    Math.min(crown.longest, flint.longest),
  );
}

/** A train of plane faces as a disperser. */
export function glassTrain(
  train: PrismTrain,
  glasses: readonly ((wavelength: number) => number)[],
  shortest: number,
  longest: number,
): Disperser {
  const indices = new Array<number>(glasses.length).fill(1);
  const set = (wavelength: number): void => {
    for (let i = 0; i < glasses.length; i++) indices[i] = glasses[i](wavelength);
  };
  return {
    angle(wavelength, incoming) {
      set(wavelength);
      return angleAfter(train, indices, incoming);
    },
    direction(wavelength, direction) {
      set(wavelength);
      return directionAfter(train, indices, direction);
    },
    shortest,
    longest,
    limit: "total reflection inside the prism",
  };
}

/**
 * Plane transmission grating, grooves along y: the direction cosine along x grows by m·g·λ, that along y stays, the rest is along z.
 * Air around; the vacuum wavelength stands for the one in air (2.8e-4 apart), a change of scale that the centring on a wavelength removes.
 */
function grating(input: Extract<DisperserInput, { kind: "grating" }>): Disperser {
  const shift = input.order * input.groovesPerMetre;
  const incidence = input.incidence ?? 0;
  if (!(input.groovesPerMetre > 0)) {
    throw new Refusal({
      code: "grating-impossible",
      field: "path.disperser.groovesPerMetre",
      received: String(input.groovesPerMetre),
      expected: "a number of grooves per metre above 0",
    });
  }
  // The rest of the bench stands along z: the grating, not the light, is turned by the incidence.
  const sine = Math.sin(incidence);
  const cosine = Math.cos(incidence);
  return {
    angle(wavelength, incoming) {
      const after = shift * wavelength - Math.sin(incidence - incoming);
      return Math.abs(after) < 1 ? Math.asin(after) + incidence : NaN;
    },
    direction(wavelength, d) {
      const alongGrating = d[0] * cosine - d[2] * sine;
      const after = alongGrating + shift * wavelength;
      const rest = 1 - after * after - d[1] * d[1];
      if (rest <= 0) return false;
      const normal = Math.sqrt(rest);
      d[0] = after * cosine + normal * sine;
      d[2] = normal * cosine - after * sine;
      return true;
    },
    shortest: 0,
    longest: Infinity,
    limit: "the diffracted order no longer leaves the grating",
  };
}
