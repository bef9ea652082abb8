/** A direct-vision prism as a thing to be made: angles, outline, dispersion, loss of light, margins. */
import { Refusal } from "../quantity/refusal.ts";
import type { DisperserInput } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { passThrough } from "./fresnel.ts";
import { glassOf } from "./glass.ts";
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
  /** clearance from total reflection at the tightest face, rad; negative or null where the light does not pass */
  readonly margin: readonly (number | null)[];
  /** bow of a spectral line: vacuum wavelength by which light 10 mrad above or below the plane of dispersion seems shifted, m, positive towards longer waves */
  readonly bow: readonly (number | null)[];
  readonly pieces: readonly PrismPiece[];
  /** ray along the axis at each wavelength: [z, x] at the entrance, every face and beyond; ends early where totally reflected */
  readonly rays: readonly (readonly (readonly [number, number])[])[];
  /** length along the axis, m */
  readonly length: number;
  /** height of the glass blocks, m: the aperture and what the light climbs inside */
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
  const { height, entrance } = blockOf(train, at(input.undeviated), aperture);
  const places = facePlaces(train.tilts, train.media, height);
  return {
    crownApex: design.crownApex,
    flintApex: input.flintApex,
    middleApex: design.middleApex,
    deviation: wavelengths.map((w) => finite(angle(w))),
    dispersion: wavelengths.map((w) => finite(slope(w))),
    bow: wavelengths.map((w) => finite((redward * bowOf(train, at(w))) / slope(w))),
    transmission: passages.map((p) => p.transmission),
    margin: passages.map((p) => finite(p.margin)),
    pieces: pieces(train, places, height, input, design.tilts, redward),
    rays: wavelengths.map((w) =>
      axisRay(train, at(w), places, aperture, entrance).map(([z, x]) => [z, x * redward] as const),
    ),
    length: places[places.length - 1] - places[0] + height * Math.abs(Math.tan(train.tilts[0])),
    height,
  };
}

/** Field angle at which the bow is told, rad. */
const ASIDE = 0.01;

/** Angle in the plane of dispersion by which a ray ASIDE out of that plane leaves beside one within it, rad, from +z towards +x. */
function bowOf(train: PrismTrain, indices: readonly number[]): number {
  const ray = new Float64Array([0, Math.sin(ASIDE), Math.cos(ASIDE)]);
  return directionAfter(train, indices, ray)
    ? Math.atan2(ray[0], ray[2]) - angleAfter(train, indices, 0)
    : NaN;
}

/**
 * Largest flint apex that still leaves `clear` of total reflection at every wavelength asked for: the most dispersion that two glasses give with that much
 * room. Halved to 1e-6 rad between 5 and 140 degrees.
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
      return prismReport({ ...input, flintApex }, 0.02, wavelengths).margin.every(
        (m) => m !== null && m >= clear,
      );
    } catch (error) {
      if (error instanceof Refusal && error.record.code === "prism-impossible") return false;
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

/** Blocks higher than this many apertures are not made. */
const HIGHEST = 20;

/**
 * How high the blocks must be, and where on the entrance face the middle of the beam must come in so that it stays inside: light climbs a fixed share of the
 * height, since all lengths grow with it.
 * @throws Refusal where it climbs nearly the whole height, whatever the height
 */
function blockOf(
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
function facePlaces(tilts: readonly number[], media: readonly number[], aperture: number): number[] {
  const places = [0];
  for (let i = 1; i < tilts.length; i++) {
    const wedge = Math.abs(Math.tan(tilts[i]) - Math.tan(tilts[i - 1])) * (aperture / 2);
    const gap = media[i] < 0 ? aperture / 4 : aperture / 20;
    places.push(places[i - 1] + wedge + gap);
  }
  return places;
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
      places[face] - Math.tan(train.tilts[face]) * x,
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

/**
 * Path of a ray along the axis in [z, x], from half an aperture before the first face to two apertures after the last.
 * @param entrance height at which it comes in, m
 */
function axisRay(
  { tilts, media }: PrismTrain,
  indices: readonly [number, number],
  places: readonly number[],
  aperture: number,
  entrance: number,
): (readonly [number, number])[] {
  let z = places[0] - Math.tan(tilts[0]) * entrance - aperture / 2;
  let x = entrance;
  const points: (readonly [number, number])[] = [[z, x]];
  let phi = 0;
  let before = 1;
  for (let i = 0; i < tilts.length; i++) {
    // Ray x = x0 + tan φ (z − z0) meets the face z = place − tan(tilt)·x.
    const slope = Math.tan(phi);
    const lean = Math.tan(tilts[i]);
    const meet = (places[i] - lean * (x - slope * z)) / (1 + lean * slope);
    x += slope * (meet - z);
    z = meet;
    points.push([z, x]);
    const after = media[i + 1] < 0 ? 1 : indices[media[i + 1]];
    const sine = (before / after) * Math.sin(phi - tilts[i]);
    if (Math.abs(sine) >= 1) return points;
    phi = tilts[i] + Math.asin(sine);
    before = after;
  }
  points.push([z + 2 * aperture, x + 2 * aperture * Math.tan(phi)]);
  return points;
}
