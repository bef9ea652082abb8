/** Simple spectra: dark lines of a flame or a cell in white light, without any bending: how wide, how many atoms, how far apart. */
import { metalOf } from "../setup/index.ts";
import { equivalentWidth, perAtom } from "../medium/index.ts";
import { linearLeastSquares } from "../numerics/linear-least-squares.ts";
import { spectralMap } from "../path/index.ts";
import type { Frame } from "../picture/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import { SETUP_SCALE } from "./answers.ts";
import { columnOf } from "./column-of-width.ts";
import { gasConditions } from "./conditions.ts";
import { lampOr, linesInView, scaleOfSetup } from "./first-look.ts";
import { lightOf, sameSize } from "./frame-light.ts";
import { lineMiddle } from "./line-middle.ts";
import type { HandMarks } from "./marks.ts";
import { refuseBent } from "./straight-spectrum.ts";
import { lampScale, polynomial } from "./wavelength-scale.ts";

export interface DarkLineInput {
  /** spectrum with the vapour in the light, colours along the columns */
  readonly picture: Frame;
  /** the same without the vapour; left out, a smooth curve through what is not dark stands for it */
  readonly reference?: Frame;
  readonly dark?: Frame;
  readonly lamp?: Frame;
  /** vacuum, m */
  readonly lampLines?: readonly number[];
  /** region of the spectrum, and two marks of its wavelengths where there is no lamp */
  readonly marks?: HandMarks;
  /** of the vapour, K; default: of the setup's tube */
  readonly temperature?: number;
  readonly setup: Setup;
}

interface Value {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface DarkLine {
  /** id in data/lines.json */
  readonly line: string;
  /** where its middle stands on the scale, vacuum, m */
  readonly wavelength: Value;
  readonly published: number;
  /** ∫(1 − light left) dλ, m: the spectrograph's blur does not change it */
  readonly equivalentWidth: Value;
  /** light missing in the middle as the picture shows it, share */
  readonly depth: number;
  /** m⁻², by the curve of growth; null where the width does not stand out of its noise */
  readonly columnDensity: Value | null;
  /** d ln(width)/d ln(column): 1 while thin, ½ once the wings rule; near 0 the column is hardly measured */
  readonly growth: number | null;
}

export interface DarkLines {
  readonly lines: readonly DarkLine[];
  /** of the two widest lines, vacuum, m */
  readonly separation: Value | null;
  readonly scale: "lamp" | "marks" | "setup";
  readonly assumptions: readonly string[];
}

/** A line's own stretch reaches this share of the picture's width to either side, or half way to the next line. */
const REACH = 0.12;
/** A width below this many standard deviations is none. */
const SEEN = 3;
/** Optical depth beyond which light says nothing of what it was before. */
const DEEPEST = 1;
/** Of what the model gives to or takes from a width (wings beyond the stretch, the neighbour's share), how much may be wrong; twice what made-up flames show. */
const MODEL_PART = 0.1;
/** Rounds in which wings and column are made to agree. */
const WING_ROUNDS = 4;

/**
 * Reads the dark lines of the setup's element in a plain spectrum.
 * @throws Refusal where no line of the element is in view, the picture holds no light, or its light is bent up and down beside the lines
 */
export function readDarkLines(input: DarkLineInput): DarkLines {
  const { setup } = input;
  const gamma = (frame: Frame): number => frame.gamma ?? setup.camera.gamma;
  const light = columnLight(input.picture, gamma(input.picture), "picture", input);
  refuseBent(lightOf(input.picture, gamma(input.picture), "picture", input.dark), input.marks?.region?.rows);
  const n = light.length;
  const { wavelengthAt, scale } = scaleOf(input, n);
  const map = spectralMap(setup.path);
  const inView = linesInView(setup, map, n)
    .map((line) => ({ ...line, at: placeOf(line.wavelength, wavelengthAt, n) }))
    .filter(({ at }) => at > 0.02 * n && at < 0.98 * n)
    .sort((a, b) => a.at - b.at);
  if (inView.length === 0)
    throw new Refusal({
      code: "no-line-in-view",
      field: "picture",
      received: `a scale on which no line of ${metalOf(setup, "a reading").element} is in view`,
      expected: "a spectrum with one of its lines",
    });
  const spans = inView.map(({ at }, k): [number, number] => {
    const before = k > 0 ? (at + inView[k - 1].at) / 2 : 0;
    const after = k + 1 < inView.length ? (at + inView[k + 1].at) / 2 : n - 1;
    return [Math.max(before, at - REACH * n, 1), Math.min(after, at + REACH * n, n - 2)];
  });
  const conditions = gasConditions(setup);
  const temperature = input.temperature ?? conditions.temperature;
  const vapour = (column: number): Parameters<typeof perAtom>[0] => ({
    element: metalOf(setup, "a reading").element,
    density: column / conditions.length,
    temperature,
    gas: { species: setup.vessel.gas, pressure: conditions.pressure },
    structure: metalOf(setup, "a reading").structure,
    overrides: metalOf(setup, "a reading").overrides,
  });
  const wavelengths = Float64Array.from({ length: n }, (_, c) => wavelengthAt(c + 0.5));
  const measured = (depths: Float64Array): DarkLine[] => {
    const { left, noise } = lightLeft(
      input,
      light,
      gamma,
      inView.map((l) => l.at),
      spans,
      depths,
    );
    return inView.map((line, k) => {
      const [from, to] = [Math.ceil(spans[k][0]), Math.floor(spans[k][1])];
      const own = (c: number): number => shareOf(k, inView, wavelengths[c]);
      const missing = new Float64Array(to - from + 1);
      let width = 0;
      let square = 0;
      let modelled = 0;
      let deepest = 0;
      for (let c = from; c <= to; c++) {
        const step = Math.abs(wavelengthAt(c + 1) - wavelengthAt(c));
        const here = 1 - left[c] * Math.exp(Math.min(depths[c] * (1 - own(c)), DEEPEST));
        missing[c - from] = here;
        width += here * step;
        modelled += (here - 1 + left[c]) * step;
        square += (noise * step) ** 2;
        deepest = Math.max(deepest, here);
      }
      const sigma = Math.sqrt(square);
      const seen = width > SEEN * sigma;
      const stands = seen ? lineMiddle(missing, noise) : null;
      const at = stands === null ? 0 : from + 0.5 + stands.middle;
      // The wings go on beyond the stretch: ∫ dδ·depth·(end/δ)² from its end outwards.
      for (const end of [from, to]) {
        const beyond = depths[end] * own(end) * Math.abs(wavelengths[end] - line.wavelength);
        width += beyond;
        modelled -= beyond;
      }
      const uncertainty = Math.hypot(
        sigma,
        MODEL_PART * modelled,
        scale === "setup" ? SETUP_SCALE * width : 0,
      );
      const column = (value: number): number =>
        columnOf((N) => equivalentWidth(vapour(N), line.id, N).width, value);
      const columnDensity = seen ? column(width) : 0;
      const slope = seen ? Math.log(column(1.02 * width) / columnDensity) / Math.log(1.02) : 0;
      return {
        line: line.id,
        wavelength:
          stands === null
            ? { value: line.wavelength, standardUncertainty: 0 }
            : {
                value: wavelengthAt(at),
                standardUncertainty:
                  stands.standardUncertainty * Math.abs(wavelengthAt(at + 0.5) - wavelengthAt(at - 0.5)),
              },
        published: line.wavelength,
        equivalentWidth: { value: width, standardUncertainty: uncertainty },
        depth: deepest,
        columnDensity: seen
          ? { value: columnDensity, standardUncertainty: (slope * columnDensity * uncertainty) / width }
          : null,
        growth: seen && slope > 0 ? 1 / slope : null,
      };
    });
  };
  let lines = measured(new Float64Array(n));
  // What the wings take from the light between the lines is known once the column is: it settles in a few rounds.
  for (let round = 0; round < WING_ROUNDS; round++) {
    const { columnDensity } = lines.reduce((a, b) =>
      b.equivalentWidth.value > a.equivalentWidth.value ? b : a,
    );
    if (columnDensity === null) break;
    const { crossSection } = perAtom(vapour(columnDensity.value), wavelengths);
    lines = measured(crossSection.map((s) => s * columnDensity.value));
  }
  const widest = lines
    .filter((line) => line.columnDensity !== null)
    .sort((a, b) => b.equivalentWidth.value - a.equivalentWidth.value)
    .slice(0, 2);
  return {
    lines,
    separation:
      widest.length < 2
        ? null
        : {
            value: Math.abs(widest[0].wavelength.value - widest[1].wavelength.value),
            standardUncertainty: Math.hypot(
              ...widest.map((l) => l.wavelength.standardUncertainty),
              scale === "setup" ? SETUP_SCALE * (widest[0].wavelength.value - widest[1].wavelength.value) : 0,
            ),
          },
    scale,
    assumptions: [
      `vapour at ${temperature.toFixed(0)} K over ${(conditions.length * 1e3).toPrecision(3)} mm, its gas at ${conditions.pressure.toPrecision(3)} Pa: set the widths of the curve of growth`,
      ...(input.reference === undefined
        ? ["light without the vapour is smooth over the colours (no reference frame)"]
        : []),
      ...(scale === "setup"
        ? [
            `wavelength scale by the setup alone (${input.lamp === undefined ? "no lamp, no marks" : "the lamp's lines were not recognised"})`,
          ]
        : []),
    ],
  };
}

/** Mean light per column over the region's rows, or over the rows that hold the spectrum, less what lies beside it. */
function columnLight(frame: Frame, gamma: number, field: string, input: DarkLineInput): Float64Array {
  const { light, columns, rows } = lightOf(frame, gamma, field, input.dark);
  const byRow = new Float64Array(rows);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) byRow[r] += light[r * columns + c] / columns;
  const region = input.marks?.region?.rows;
  const top = byRow.reduce((a, b) => Math.max(a, b));
  const floor = byRow.reduce((a, b) => Math.min(a, b));
  const kept = (r: number): boolean =>
    region === undefined ? byRow[r] > (top + floor) / 2 : r >= region[0] && r <= region[1];
  // Without a dark frame the rows beside the spectrum stand for it, where there are any.
  const beside = input.dark === undefined && region === undefined && floor < 0.5 * top ? floor : 0;
  const out = new Float64Array(columns);
  let count = 0;
  for (let r = 0; r < rows; r++) {
    if (!kept(r)) continue;
    count++;
    for (let c = 0; c < columns; c++) out[c] += light[r * columns + c];
  }
  for (let c = 0; c < columns; c++) out[c] = out[c] / Math.max(count, 1) - beside;
  if (!(top - floor > 1e-4 || region !== undefined) || out.every((v) => v <= 0))
    throw new Refusal({
      code: "no-spectrum",
      field,
      received: "a picture equally bright everywhere or dark",
      expected: "a spectrum: a bright band across the picture",
    });
  return out;
}

function scaleOf(
  input: DarkLineInput,
  columns: number,
): { readonly wavelengthAt: (column: number) => number; readonly scale: DarkLines["scale"] } {
  const { setup, marks, lamp, lampLines } = input;
  const map = spectralMap(setup.path);
  const { pixel } = setup.camera;
  const byHand = marks?.scale;
  const rough =
    byHand === undefined
      ? scaleOfSetup(map, pixel, [map.wavelengthAt(0)], [0])
      : scaleOfSetup(
          map,
          pixel,
          byHand.map((mark) => mark.wavelength),
          byHand.map((mark) => mark.column - columns / 2),
        );
  if (lamp !== undefined && lampLines !== undefined) {
    sameSize(input.picture, lamp, "lamp", "picture");
    const frame = lampOr({ ...input, hot: input.picture }, lamp, lamp.gamma ?? setup.camera.gamma);
    const found = lampScale(frame, lampLines, {
      wavelength: rough,
      dispersion: rough(0.5) - rough(-0.5),
      shift: 0.3 * columns,
      stretch: 0.25,
    });
    if (found !== null)
      return {
        wavelengthAt: (c) => polynomial(found.coefficients, (c - columns / 2) / 1000),
        scale: "lamp",
      };
  }
  return { wavelengthAt: (c) => rough(c - columns / 2), scale: byHand === undefined ? "setup" : "marks" };
}

function placeOf(wavelength: number, wavelengthAt: (column: number) => number, columns: number): number {
  let best = 0;
  for (let c = 0; c <= columns; c++)
    if (Math.abs(wavelengthAt(c) - wavelength) < Math.abs(wavelengthAt(best) - wavelength)) best = c;
  return best;
}

/** Light left per column, and its noise: over the reference frame, and over a smooth curve through what no line touches. */
function lightLeft(
  input: DarkLineInput,
  light: Float64Array,
  gamma: (frame: Frame) => number,
  places: readonly number[],
  spans: readonly (readonly [number, number])[],
  depths: Float64Array,
): { readonly left: Float64Array; readonly noise: number } {
  const n = light.length;
  let raw = light;
  if (input.reference !== undefined) {
    sameSize(input.picture, input.reference, "reference", "picture");
    const full = columnLight(input.reference, gamma(input.reference), "reference", input);
    const least = 0.02 * full.reduce((a, b) => Math.max(a, b));
    raw = light.map((v, c) => v / Math.max(full[c], least));
  }
  // The inner half of each line's stretch is left out; what is still dark beside it is clipped.
  const free = (c: number): boolean =>
    places.every((at, k) => Math.abs(c + 0.5 - at) > 0.5 * Math.min(at - spans[k][0], spans[k][1] - at));
  const clear = raw.map((v, c) => v * Math.exp(Math.min(depths[c], DEEPEST)));
  let keep = Array.from({ length: n }, (_, c) => c).filter((c) => c > 1 && c < n - 2 && free(c));
  const order = input.reference === undefined ? 3 : 1;
  let noise = 0;
  let smooth = new Float64Array(n);
  for (let pass = 0; pass < 5; pass++) {
    const x = Float64Array.from(keep, (c) => (2 * c) / n - 1);
    const fit = linearLeastSquares(
      Array.from({ length: order + 1 }, (_, k) => x.map((v) => v ** k)),
      Float64Array.from(keep, (c) => clear[c]),
      new Float64Array(keep.length).fill(1),
    );
    smooth = Float64Array.from({ length: n }, (_, c) =>
      fit.parameters.reduce((sum, p, k) => sum + p * ((2 * c) / n - 1) ** k, 0),
    );
    const off = keep.map((c) => clear[c] - smooth[c]);
    noise = Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / Math.max(1, keep.length - order - 1));
    const next = keep.filter((_, i) => off[i] > -2.5 * noise);
    if (next.length === keep.length || next.length < 4 * (order + 1)) break;
    keep = next;
  }
  const level = smooth.reduce((a, b) => a + b, 0) / n;
  return { left: raw.map((v, c) => v / smooth[c]), noise: noise / level };
}

/** Share of the k-th line in the depth of all their wings at a wavelength. */
function shareOf(
  k: number,
  lines: readonly { readonly wavelength: number; readonly strength: number }[],
  wavelength: number,
): number {
  const depth = (line: (typeof lines)[number]): number =>
    line.strength / Math.max((wavelength - line.wavelength) ** 2, 1e-30);
  return depth(lines[k]) / lines.reduce((sum, line) => sum + depth(line), 0);
}
