/** What each kind of disperser does to a ray: one small interface, so that the spectral map need not know glass from grating. */
import { asin, atan2, cos, hypot, sin } from "../numerics/elementary/index.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
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

/** The disperser as it stands, its turn included. */
export function disperserOf(input: BendingDisperser): Disperser {
  const turn = "turn" in input ? (input.turn ?? 0) : 0;
  const placed = placedDisperser(input);
  return turn === 0 ? placed : turned(placed, turn);
}

/** The disperser in its right place, whatever its turn. */
export function placedDisperser(input: BendingDisperser): Disperser {
  switch (input.kind) {
    case "grating":
      return grating(input);
    case "prism":
      return plainPrism(input);
    case "table":
      return measuredPrism(input);
    case "direct-vision":
      return directVisionPrism(input);
  }
}

/** A disperser turned about the plumb axis by an angle from +z towards +x, rad. */
function turned(disperser: Disperser, turn: number): Disperser {
  const sine = sin(turn);
  const cosine = cos(turn);
  const rotate = (d: Float64Array, s: number): void => {
    const x = d[0] * cosine + d[2] * s;
    d[2] = d[2] * cosine - d[0] * s;
    d[0] = x;
  };
  return {
    ...disperser,
    angle: (wavelength, incoming) => disperser.angle(wavelength, incoming - turn) + turn,
    direction(wavelength, direction) {
      rotate(direction, -sine);
      const through = disperser.direction(wavelength, direction);
      rotate(direction, sine);
      return through;
    },
  };
}

/** Faces of one prism that light along z meets at least deviation, for glass of this index. */
export function leastDeviationTrain(apex: number, index: number): PrismTrain {
  const sine = index * sin(apex / 2);
  if (!(sine < 1)) {
    const largest = (2 * asin(1 / index) * 180) / Math.PI;
    throw new Refusal({
      code: "prism-impossible",
      field: "path.disperser.apex",
      received: `${((apex * 180) / Math.PI).toFixed(1)} deg`,
      expected: `an apex below ${largest.toFixed(1)} deg, where total reflection at the second face begins`,
    });
  }
  const incidence = asin(sine);
  return { tilts: [incidence, incidence - apex], media: [-1, 0, -1] };
}

function plainPrism(input: Extract<DisperserInput, { kind: "prism" }>): Disperser {
  const glass = glassOf(input.glass, "path.disperser.glass");
  return glassTrain(
    leastDeviationTrain(input.apex, glass.index(input.leastAt)),
    [(w) => glass.index(w)],
    glass.shortest,
    glass.longest,
  );
}

/**
 * A prism of which only the deviation at each wavelength is known: a monotone cubic through the table. How it stretches the slit and bows the lines is not in
 * such a table: stretch 1 (as at least deviation) and straight lines are taken.
 */
function measuredPrism(input: Extract<DisperserInput, { kind: "table" }>): Disperser {
  const { table } = input;
  if (table.length < 2) {
    throw new Refusal({
      code: "table-short",
      field: "path.disperser.table",
      received: `${table.length} rows`,
      expected: "at least two rows of wavelength and deviation",
    });
  }
  const curve = new MonotoneCubic(
    Float64Array.from(table, (row) => row[0]),
    Float64Array.from(table, (row) => row[1]),
  );
  return {
    angle: (wavelength, incoming) => curve.value(wavelength) + incoming,
    direction(wavelength, d) {
      const angle = atan2(d[0], d[2]) + curve.value(wavelength);
      const level = hypot(d[0], d[2]);
      d[0] = level * sin(angle);
      d[2] = level * cos(angle);
      return true;
    },
    shortest: table[0][0],
    longest: table[table.length - 1][0],
    limit: "the end of the table of deviations",
  };
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
  const sine = sin(incidence);
  const cosine = cos(incidence);
  return {
    angle(wavelength, incoming) {
      const after = shift * wavelength - sin(incidence - incoming);
      return Math.abs(after) < 1 ? asin(after) + incidence : NaN;
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
