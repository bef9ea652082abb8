/** A direct-vision prism as a thing to be made: angles, outline, dispersion, loss of light, margins. */
import { atan2, cos, exp, sin, tan } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { DisperserInput } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { passThrough } from "./fresnel.ts";
import { glassOf } from "./glass.ts";
import { darkeningOf } from "./glass-absorption.ts";
import { axisRay, blockOf, facePlaces, waysInGlass } from "./prism-blocks.ts";
import { angleAfter, directionAfter, type PrismTrain } from "./prism.ts";

export type DirectVisionInput = Extract<DisperserInput, { kind: "direct-vision" }>;

/** One glass of the train in the plane of dispersion: corners in order, m; z along the light, x towards longer waves' side of the bench. */
export interface PrismPiece {
  readonly glass: string;
  /** [z, x] of the corners */
  readonly outline: readonly (readonly [number, number])[];
  /** apex angle, rad */
  readonly apex: number;
}

export interface PrismReport {
  readonly crownApex: number;
  readonly flintApex: number;
  /** apex of the middle crown of a five-element train, rad; null for three */
  readonly middleApex: number | null;
  /** direction after the train of each wavelength asked for, rad from the axis, positive towards longer waves; null where totally reflected */
  readonly deviation: readonly (number | null)[];
  /** its slope, rad per m of vacuum wavelength; null where totally reflected */
  readonly dispersion: readonly (number | null)[];
  /** share of unpolarised light passed, 1 */
  readonly transmission: readonly number[];
  /** share left by the absorption inside the glass, along the ray of the axis, 1 */
  readonly inside: readonly number[];
  /** share of the aperture whose light meets every face inside the blocks, 1: all of it where the colour passes, 0 where it is totally reflected */
  readonly kept: readonly number[];
  /** clearance from total reflection at the tightest face, rad; negative or null where the light does not pass */
  readonly margin: readonly (number | null)[];
  /** bow of a spectral line: vacuum wavelength by which light 10 mrad above or below the plane of dispersion seems shifted, m, positive towards longer waves */
  readonly bow: readonly (number | null)[];
  readonly pieces: readonly PrismPiece[];
  /** ray along the axis at each wavelength: [z, x] at the entrance, every face and beyond; ends early where totally reflected */
  readonly rays: readonly (readonly (readonly [number, number])[])[];
  /** the same for the beam's lower and upper edge, two rays for each wavelength one after the other */
  readonly edges: readonly (readonly (readonly [number, number])[])[];
  /** length along the axis, m */
  readonly length: number;
  /** height of the glass blocks, m: the least that holds the whole beam at the undeviated wavelength and at all asked for */
  readonly height: number;
}

/**
 * Design of a direct-vision prism from two glasses, the flint's apex and the undeviated wavelength.
 * @param aperture height of the clear beam, m
 * @param wavelengths vacuum wavelengths, m, at which to report
 * @throws Refusal as directVision, or where a glass's published index does not reach
 */
export function prismReport(
  input: DirectVisionInput,
  aperture: number,
  wavelengths: readonly number[],
): PrismReport {
  if (input.crown === input.flint) {
    throw new Refusal({
      code: "prism-impossible",
      field: "path.disperser.flint",
      received: `${input.flint}, which is the crown too`,
      expected: "two glasses that differ: one alone has no dispersion left where it deviates nothing",
    });
  }
  const crown = glassOf(input.crown, "path.disperser.crown");
  const flint = glassOf(input.flint, "path.disperser.flint");
  const design = directVision(
    crown.index(input.undeviated),
    flint.index(input.undeviated),
    input.flintApex,
    input.elements,
    input.trains,
  );
  const at = (w: number): readonly [number, number] => [crown.index(w), flint.index(w)];
  const { train } = design;
  const redward = Math.sign(
    angleAfter(train, at(input.undeviated * 1.001), 0) - angleAfter(train, at(input.undeviated * 0.999), 0),
  );
  const angle = (w: number): number => redward * angleAfter(train, at(w), 0);
  const passages = wavelengths.map((w) => passThrough(train, at(w), 0));
  const step = 1e-11;
  const slope = (w: number): number => (angle(w + step) - angle(w - step)) / (2 * step);
  const { height, entrance } = blockOf(train, [input.undeviated, ...wavelengths].map(at), aperture);
  const places = facePlaces(train.tilts, train.media, height);
  const dark = [darkeningOf(input.crown), darkeningOf(input.flint)];
  const axis = (w: number, aside = 0) => axisRay(train, at(w), places, aperture, entrance + aside);
  const drawn = (ray: ReturnType<typeof axis>) => ray.map(([z, x]) => [z, x * redward] as const);
  return {
    crownApex: design.crownApex,
    flintApex: input.flintApex,
    middleApex: design.middleApex,
    deviation: wavelengths.map((w) => finite(angle(w))),
    dispersion: wavelengths.map((w) => finite(slope(w))),
    bow: wavelengths.map((w) => finite((redward * bowOf(train, at(w))) / slope(w))),
    transmission: passages.map((p) => p.transmission),
    inside: wavelengths.map((w) =>
      waysInGlass(train, axis(w), 2).reduce((share, way, g) => share * exp(-dark[g](w) * way), 1),
    ),
    kept: wavelengths.map((w) => keptShare(axis(w), axis(w, aperture), train.tilts.length, height)),
    margin: passages.map((p) => finite(p.margin)),
    pieces: pieces(train, places, height, input, design.tilts, redward),
    rays: wavelengths.map((w) => drawn(axis(w))),
    edges: wavelengths.flatMap((w) => [drawn(axis(w, -aperture / 2)), drawn(axis(w, aperture / 2))]),
    length: places[places.length - 1] - places[0] + height * Math.abs(tan(train.tilts[0])),
    height,
  };
}

/**
 * Share of a beam that meets every face within the blocks: heights on the faces go in proportion to the height at which a ray comes in, so two rays say where all go.
 * @param middle ray along the axis
 * @param other the ray that comes in one aperture higher
 */
function keptShare(
  middle: readonly (readonly [number, number])[],
  other: readonly (readonly [number, number])[],
  faces: number,
  height: number,
): number {
  // Entrance, every face and the end: a ray that ends early is totally reflected.
  if (middle.length < faces + 2 || other.length < faces + 2) return 0;
  let [low, high] = [-0.5, 0.5];
  for (let i = 1; i <= faces; i++) {
    const x = middle[i][1];
    const per = other[i][1] - x;
    const ends = [(-height / 2 - x) / per, (height / 2 - x) / per];
    low = Math.max(low, Math.min(...ends));
    high = Math.min(high, Math.max(...ends));
  }
  return Math.max(0, high - low);
}

/** Field angle at which the bow is told, rad. */
const ASIDE = 0.01;

/** Angle in the plane of dispersion by which a ray ASIDE out of that plane leaves beside one within it, rad, from +z towards +x. */
function bowOf(train: PrismTrain, indices: readonly number[]): number {
  const ray = new Float64Array([0, sin(ASIDE), cos(ASIDE)]);
  return directionAfter(train, indices, ray) ? atan2(ray[0], ray[2]) - angleAfter(train, indices, 0) : NaN;
}

/** Any aperture serves the search, m; blocks higher than so many apertures are not looked for: common practice, no source. */
const APERTURE = 0.02;
const TALLEST = 3;

/**
 * Largest flint apex that still leaves `clear` of total reflection at every wavelength asked for: the most dispersion that two glasses give with that much
 * room, in blocks no higher than three apertures. Halved to 1e-6 rad between 5 and 140 degrees.
 * @param clear wished margin, rad
 * @throws Refusal where even the smallest apex does not pass
 */
export function largestApex(
  input: Omit<DirectVisionInput, "flintApex">,
  wavelengths: readonly number[],
  clear: number,
): number {
  const passes = (flintApex: number): boolean => {
    try {
      const { margin, height } = prismReport({ ...input, flintApex }, APERTURE, wavelengths);
      return height <= TALLEST * APERTURE && margin.every((m) => m !== null && m >= clear);
    } catch (error) {
      if (
        error instanceof Refusal &&
        error.record.code === "prism-impossible" &&
        error.record.field === "path.disperser.flintApex"
      )
        return false;
      throw error;
    }
  };
  let low = (5 * Math.PI) / 180;
  let high = (140 * Math.PI) / 180;
  if (!passes(low)) {
    throw new Refusal({
      code: "prism-impossible",
      field: "margin",
      received: `${((clear * 180) / Math.PI).toFixed(1)} deg with ${input.crown} and ${input.flint}`,
      expected: "a margin that these glasses leave at some apex, or a flint of higher index than the crown",
    });
  }
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (passes(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function pieces(
  train: { readonly tilts: readonly number[]; readonly media: readonly number[] },
  places: readonly number[],
  aperture: number,
  input: DirectVisionInput,
  tilts: readonly number[],
  redward: number,
): PrismPiece[] {
  const out: PrismPiece[] = [];
  const h = aperture / 2;
  for (let i = 0; i + 1 < places.length; i++) {
    const medium = train.media[i + 1];
    if (medium < 0) continue;
    // A face with normal tilted towards +x leans back: z falls by tan(tilt) per unit of x.
    const edge = (face: number, x: number): readonly [number, number] => [
      places[face] - tan(train.tilts[face]) * x,
      x * redward,
    ];
    const local = i % tilts.length;
    out.push({
      glass: medium === 0 ? input.crown : input.flint,
      outline: [edge(i, -h), edge(i, h), edge(i + 1, h), edge(i + 1, -h)],
      apex: Math.abs(tilts[local + 1] - tilts[local]),
    });
  }
  return out;
}
