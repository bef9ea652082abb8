/** What must be seen in the frames before anything is fitted; everything that is not such a picture is refused here. */
import { metalOf } from "../setup/index.ts";
import type { SpectralMap } from "../path/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import { linesOf } from "../reference/index.ts";
import type { Setup } from "../setup/api.ts";
import type { ReadingInput } from "./api.ts";
import type { Background } from "./background.ts";
import { type Band, findBand } from "./band-search.ts";
import { type LightFrame, lightOf, sameSize } from "./frame-light.ts";
import { assignGaps, findGaps, type LineAtPlace, type RankedAssignment } from "./gaps.ts";
import { type LampFrame, readLampFrame } from "./lamp-frame.ts";
import type { RoughTrace } from "./rough-trace.ts";

/** With a cold frame the hot one may be bent all over; it must only hold some light, and not be bright everywhere. */
export function lightOr(background: Background, field: string): void {
  if (background.litShare > 2e-4 && background.litShare < 0.6) return;
  throw noLine(field, background);
}

/** How far a curve that is bent all along may leave the line it is taken for, share of the rows. */
const BENT = 0.015;

/** @param share of the columns that must agree on the line */
export function bandOr(frame: LightFrame, background: Background, field: string, share: number): Band {
  if (background.litShare < 0.6)
    for (const near of [undefined, BENT * frame.rows]) {
      const band = findBand(frame, background, near);
      if (band !== null && band.share > share && band.height < 0.3 * frame.rows) return band;
    }
  throw noLine(field, background);
}

function noLine(field: string, { even, level }: Background): Refusal {
  const flat = level > 0.02 ? "a picture equally bright everywhere" : "a picture without any light in it";
  return new Refusal({
    code: "no-line",
    field,
    received: even ? flat : "a picture without such a line",
    expected: "a crossed-prism picture with one bright, nearly level line across it",
  });
}

/** Fewer pixels on the curve than this times the parameters say nothing. */
const FEWEST_PER_PARAMETER = 20;

export function enoughPixels(pixels: number, parameters: number): void {
  if (pixels >= FEWEST_PER_PARAMETER * parameters) return;
  throw new Refusal({
    code: "too-few-pixels",
    field: "hot",
    received: `${pixels} pixels on the curve that are neither struck, overexposed nor outside the region`,
    expected: `at least ${FEWEST_PER_PARAMETER * parameters}`,
    hint: "choose a larger region or strike less",
  });
}

export function lampOr(
  input: ReadingInput,
  frame: NonNullable<ReadingInput["lamp"]>,
  gamma: number,
): LampFrame {
  sameSize(input.hot, frame, "lamp", "hot");
  const found = readLampFrame(lightOf(frame, gamma, "lamp", input.dark));
  if (found !== null) return found;
  throw new Refusal({
    code: "no-lamp-lines",
    field: "lamp",
    received: "a picture without bright upright lines",
    expected: "a frame of a line lamp seen through the plumb slit",
  });
}

/** Lines of the element that the setup puts on the sensor, ascending wavelength. */
export function linesInView(setup: Setup, map: SpectralMap, columns: number): LineAtPlace[] {
  const half = (columns / 2) * setup.camera.pixel * 1.3;
  return linesOf(metalOf(setup, "a reading").element)
    .filter((line) => {
      if (line.wavelength < map.reach.shortest || line.wavelength > map.reach.longest) return false;
      return Math.abs(map.position(line.wavelength)) < half;
    })
    .map((line) => ({
      id: line.id,
      wavelength: line.wavelength,
      strength:
        metalOf(setup, "a reading").overrides.oscillatorStrength?.[line.id] ?? line.oscillatorStrength,
    }))
    .sort((a, b) => a.wavelength - b.wavelength);
}

/** Pairings of gaps and lines, best first; at least one. @throws Refusal where there is none */
export function assignmentsOr(
  trace: RoughTrace,
  reference: Float64Array,
  lines: readonly LineAtPlace[],
  map: SpectralMap,
  pixel: number,
  columns: number,
): RankedAssignment[] {
  const gaps = findGaps(trace, reference);
  const centre = map.wavelengthAt(0);
  const dispersion = map.wavelengthAt(pixel / 2) - map.wavelengthAt(-pixel / 2);
  const found = assignGaps(
    gaps,
    lines,
    { place: (w) => safely(() => map.position(w), ((w - centre) / dispersion) * pixel) / pixel, dispersion },
    columns,
  );
  if (found.length > 0) return found;
  throw new Refusal({
    code: lines.length === 0 ? "no-line-in-view" : "no-gap",
    field: "hot",
    received:
      lines.length === 0 ? "a setup with none of the element's lines in view" : "a line without dark gaps",
    expected: "a picture with at least one dark gap of the element's lines",
    hint: "the tube may be cold or the camera may look at other wavelengths",
  });
}

function safely(attempt: () => number, otherwise: number): number {
  try {
    return attempt();
  } catch (error) {
    if (error instanceof Refusal) return otherwise;
    throw error;
  }
}

/** The setup's wavelength scale, moved (and with two lines stretched) so that the gaps fall on their lines. */
export function scaleOfSetup(
  map: SpectralMap,
  pixel: number,
  anchors: readonly number[],
  at: readonly number[],
): (along: number) => number {
  const centre = map.wavelengthAt(0);
  const slope = (map.wavelengthAt(pixel) - map.wavelengthAt(-pixel)) / 2;
  const raw = tabulated((u) => {
    const inside = u * pixel > map.reach.left && u * pixel < map.reach.right;
    return inside ? map.wavelengthAt(u * pixel) : centre + slope * u;
  });
  const a = raw(at[0]);
  if (at.length === 1) return (u) => raw(u) - a + anchors[0];
  const b = raw(at[1]);
  return (u) => anchors[0] + ((raw(u) - a) * (anchors[1] - anchors[0])) / (b - a);
}

/** Pixels from one knot to the next. A disperser's scale changes over thousands of pixels, so a cubic through four knots is exact to 1e-12 of it. */
const KNOTS = 8;

/** The same function from cubics through knots that are worked out when first asked for: a prism's own answer is a search for a root. */
function tabulated(exact: (u: number) => number): (u: number) => number {
  const knots = new Map<number, number>();
  const knot = (k: number): number => {
    const known = knots.get(k);
    if (known !== undefined) return known;
    const value = exact(k * KNOTS);
    knots.set(k, value);
    return value;
  };
  return (u) => {
    const at = u / KNOTS;
    const k = Math.floor(at);
    const t = at - k;
    const [a, b, c, d] = [knot(k - 1), knot(k), knot(k + 1), knot(k + 2)];
    const even = (b + c) / 2 + (t - 0.5) * (c - b);
    const square = (t * (t - 1)) / 4;
    return even + square * (a - b - c + d) + square * ((2 * t - 1) / 3) * (d - a - 3 * (c - b));
  };
}
