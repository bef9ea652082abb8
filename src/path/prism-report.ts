/** A direct-vision prism as a thing to be made: angles, outline, dispersion, loss of light, margins. */
import type { DisperserInput } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { passThrough } from "./fresnel.ts";
import { glassOf } from "./glass.ts";
import { angleAfter } from "./prism.ts";

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
  readonly pieces: readonly PrismPiece[];
  /** ray along the axis at each wavelength: [z, x] at the entrance, every face and beyond; ends early where totally reflected */
  readonly rays: readonly (readonly (readonly [number, number])[])[];
  /** length along the axis, m */
  readonly length: number;
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
  const places = facePlaces(train.tilts, train.media, aperture);
  return {
    crownApex: design.crownApex,
    flintApex: input.flintApex,
    middleApex: design.middleApex,
    deviation: wavelengths.map((w) => finite(angle(w))),
    dispersion: wavelengths.map((w) => finite((angle(w + step) - angle(w - step)) / (2 * step))),
    transmission: passages.map((p) => p.transmission),
    margin: passages.map((p) => finite(p.margin)),
    pieces: pieces(train, places, aperture, input, design.tilts, redward),
    rays: wavelengths.map((w) => axisRay(train.tilts, train.media, at(w), places, aperture, redward)),
    length: places[places.length - 1] - places[0] + aperture * Math.abs(Math.tan(train.tilts[0])),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
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

/** Path of the axial ray in [z, x], from half an aperture before the first face to two apertures after the last. */
function axisRay(
  tilts: readonly number[],
  media: readonly number[],
  indices: readonly [number, number],
  places: readonly number[],
  aperture: number,
  redward: number,
): (readonly [number, number])[] {
  const points: (readonly [number, number])[] = [[places[0] - aperture / 2, 0]];
  let z = points[0][0];
  let x = 0;
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
    if (Math.abs(sine) >= 1) return points.map(([a, b]) => [a, b * redward] as const);
    phi = tilts[i] + Math.asin(sine);
    before = after;
  }
  points.push([z + 2 * aperture, x + 2 * aperture * Math.tan(phi)]);
  return points.map(([a, b]) => [a, b * redward] as const);
}
