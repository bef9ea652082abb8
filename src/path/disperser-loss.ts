/** Share of the light that a disperser passes. */
import { cos, exp, pow, sin } from "../numerics/elementary/index.ts";
import type { DisperserInput, Table } from "./api.ts";
import { directVision } from "./direct-vision.ts";
import { leastDeviationTrain } from "./disperser.ts";
import { passThrough } from "./fresnel.ts";
import { type Glass, glassOf } from "./glass.ts";
import { darkeningOf } from "./glass-absorption.ts";
import { MonotoneCubic } from "../numerics/monotone-cubic.ts";
import { axisRay, blockOf, facePlaces, waysInGlass } from "./prism-blocks.ts";
import type { PrismTrain } from "./prism.ts";

/** Share that a grating sends into its order where nothing is said: common practice, no source. */
const GRATING = 0.6;
/** Smallest faces a prism is sold with, m: common practice, no source. */
const SMALLEST_FACE = 0.025;

/** Shares of one wavelength, 1. */
export interface DisperserLoss {
  /** faces (Fresnel, cement taken as index-matched, single passes), or the order of a grating */
  readonly faces: (wavelength: number) => number;
  /** inside the glass, over the way of the beam's middle through blocks that just hold the undeviated colour's beam (no smaller than 25 mm); 1 where the glass has no stored absorption */
  readonly glass: (wavelength: number) => number;
  /** as measured: the setup's own table, 1 without one */
  readonly measured: (wavelength: number) => number;
}

/**
 * @param aperture width of the beam there, m: it sets how large the blocks are
 * @param passes rows of vacuum wavelength, m, and share passed
 */
export function disperserLoss(disperser: DisperserInput, aperture: number, passes?: Table): DisperserLoss {
  const measured = passes === undefined ? one : between(passes);
  if (disperser.kind === "linear" || disperser.kind === "table") return { faces: one, glass: one, measured };
  if (disperser.kind === "grating") return { faces: orderShare(disperser), glass: one, measured };
  const { train, glasses, codes } = trainOf(disperser);
  const at = (w: number): number[] => glasses.map((glass) => glass.index(w));
  const turn = disperser.turn ?? 0;
  return {
    faces: (w) => passThrough(train, at(w), -turn).transmission,
    glass: insideGlass(train, codes, at, aperture, disperser),
    measured,
  };
}

/** Faces and table of `disperserLoss` in one, of a wavelength in m; without the glass's absorption: what a budget of the usual kind counts. */
export function disperserTransmission(
  disperser: DisperserInput,
  passes?: Table,
): (wavelength: number) => number {
  const { faces, measured } = disperserLoss(disperser, SMALLEST_FACE, passes);
  return (wavelength) => faces(wavelength) * measured(wavelength);
}

const one = (): number => 1;

/**
 * Order of a grating: its stated share, at the blaze wavelength where there is one and elsewhere less by sinc²(m(λ_b/λ − 1)), the scalar theory of a blazed
 * profile whose phase step is m waves at λ_b (Goodman, "Introduction to Fourier Optics", sawtooth phase grating).
 */
function orderShare(grating: Extract<DisperserInput, { kind: "grating" }>): (wavelength: number) => number {
  const { efficiency = GRATING, blaze, order } = grating;
  if (blaze === undefined) return () => efficiency;
  return (w) => {
    const u = Math.PI * order * (blaze / w - 1);
    return Math.abs(u) < 1e-8 ? efficiency : efficiency * pow(sin(u) / u, 2);
  };
}

function between(rows: Table): (wavelength: number) => number {
  const at = Float64Array.from(rows, (row) => row[0]);
  const curve = new MonotoneCubic(
    at,
    Float64Array.from(rows, (row) => row[1]),
  );
  return (w) => (w < at[0] || w > at[at.length - 1] ? 0 : Math.max(0, curve.value(w)));
}

type GlassDisperser = Extract<DisperserInput, { kind: "prism" | "direct-vision" }>;

function trainOf(disperser: GlassDisperser): {
  train: PrismTrain;
  glasses: readonly Glass[];
  codes: readonly string[];
} {
  if (disperser.kind === "prism") {
    const glass = glassOf(disperser.glass, "path.disperser.glass");
    const train = leastDeviationTrain(disperser.apex, glass.index(disperser.leastAt));
    return { train, glasses: [glass], codes: [disperser.glass] };
  }
  const crown = glassOf(disperser.crown, "path.disperser.crown");
  const flint = glassOf(disperser.flint, "path.disperser.flint");
  const { train } = directVision(
    crown.index(disperser.undeviated),
    flint.index(disperser.undeviated),
    disperser.flintApex,
    disperser.elements,
    disperser.trains,
  );
  return { train, glasses: [crown, flint], codes: [disperser.crown, disperser.flint] };
}

function insideGlass(
  train: PrismTrain,
  codes: readonly string[],
  at: (wavelength: number) => number[],
  aperture: number,
  disperser: GlassDisperser,
): (wavelength: number) => number {
  const dark = codes.map(darkeningOf);
  const product = (w: number, ways: readonly number[]): number =>
    ways.reduce((share, way, i) => share * exp(-dark[i](w) * way), 1);
  if (disperser.kind === "prism") {
    // Light through the middle of a prism runs parallel to its base, half as long.
    const way = Math.max(SMALLEST_FACE, aperture / cos(train.tilts[0])) * sin(disperser.apex / 2);
    return (w) => product(w, [way]);
  }
  const pair = (w: number): [number, number] => {
    const [crown, flint] = at(w);
    return [crown, flint];
  };
  const block = blockOf(train, [pair(disperser.undeviated)], aperture);
  const larger = Math.max(1, SMALLEST_FACE / block.height);
  const places = facePlaces(train.tilts, train.media, block.height * larger);
  return (w) =>
    product(w, waysInGlass(train, axisRay(train, pair(w), places, aperture, block.entrance * larger), 2));
}
