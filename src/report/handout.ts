/** A sheet for a class: the picture that a setup foretells, to be measured with a ruler, and what must come out. */
import { Refusal } from "../quantity/index.ts";
import { gasRefractivityPerDensity } from "../medium/index.ts";
import { CLASSICAL_ELECTRON_RADIUS, lineById, linesOf } from "../reference/index.ts";
import {
  coldCurve,
  type CurvePoints,
  curvePoints,
  type Forecast,
  type LineGap,
  metalOf,
} from "../setup/index.ts";

/** Paper between the margins, mm. */
const PAPER = 165;
/** Least height worth a ruler, mm on paper. */
const LEAST_HEIGHT = 2;
/** Least light left where the band is to be measured. */
const LEAST_LIGHT = 0.5;

/** A place on the printed picture: mm from its left and upper edge. */
export interface PaperPlace {
  readonly name: string;
  /** vacuum, m */
  readonly wavelength: number;
  readonly x: number;
}

export interface HandoutGap extends PaperPlace {
  readonly line: string;
  readonly strength: number;
  /** from half light to half light, mm on paper, and m of wavelength */
  readonly width: number;
  readonly span: number;
}

export interface HandoutBend extends PaperPlace {
  /** of the band's middle over the cold line, mm on paper, positive up */
  readonly height: number;
  /** at the tube, rad, positive up */
  readonly angle: number;
  /** gradient of the column that follows from the angle and the given strengths, m⁻³ */
  readonly gradient: number;
}

/** What is printed and asked, as numbers; lengths on paper in mm, the rest SI. */
export interface HandoutNumbers {
  readonly pixelsPerMm: number;
  readonly width: number;
  readonly height: number;
  /** paper over sensor */
  readonly enlargement: number;
  /** m on the sensor for each radian; negative where the picture is inverted */
  readonly perRadian: number;
  readonly marks: readonly PaperPlace[];
  /** mean of nm for each mm between the marks */
  readonly nmPerMm: number;
  readonly gaps: readonly HandoutGap[];
  readonly bends: readonly HandoutBend[];
  /** sum over the metal's lines beyond the picture, at its middle, m² */
  readonly farLines: number;
  /** bend by the gas that makes room for the vapour, rad, positive up */
  readonly gasAngle: number;
  /** where n − 1 of the vapour vanishes between two gaps, and the ratio of strengths that follows, shorter to longer */
  readonly zero: (PaperPlace & { readonly ratio: number }) | null;
  /** gradient of the column in the setup's own vapour, m⁻³ */
  readonly columnGradient: number;
  /** height of the cold line where it leaves the picture at the left and right, mm from the upper edge */
  readonly cold: readonly [number, number];
}

/** @throws Refusal where the setup's picture holds nothing that a ruler could measure */
export function handoutNumbers(forecast: Forecast, expected: string): HandoutNumbers {
  const { setup, curve, vapour } = forecast;
  const { camera } = setup;
  const pixelsPerMm = Math.max(1, Math.ceil(camera.columns / PAPER));
  const hot = curvePoints(setup, curve);
  const cold = curvePoints(setup, coldCurve(curve));
  const at = (name: string, wavelength: number): PaperPlace => ({
    name,
    wavelength,
    x: along(cold.wavelength, cold.column, wavelength) / pixelsPerMm,
  });
  const strengthOf = (line: string): number =>
    metalOf(setup, "the handout").overrides.oscillatorStrength?.[line] ?? lineById(line).oscillatorStrength;
  const lines = curve.lines.filter(({ halfGap, wavelength }) => halfGap > 0 && inside(at("", wavelength)));
  const gaps = lines.map((line, i): HandoutGap => {
    const place = at(String.fromCharCode(65 + i), line.wavelength);
    const from = at("", line.wavelength - line.halfGap).x;
    const to = at("", line.wavelength + line.halfGap).x;
    const strength = strengthOf(line.line);
    return { ...place, line: line.line, strength, width: Math.abs(to - from), span: 2 * line.halfGap };
  });
  const middle = along(hot.column, hot.wavelength, camera.columns / 2);
  const shown = new Set(gaps.map(({ line }) => line));
  const farLines = linesOf(metalOf(setup, "the handout").element)
    .filter(({ id }) => !shown.has(id))
    .reduce((sum, line) => sum + strengthOf(line.id) * leverOf(line.wavelength, middle), 0);
  const gasAngle =
    gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength) *
    vapour.middle.gasColumnGradient;
  const response = (wavelength: number): number =>
    (CLASSICAL_ELECTRON_RADIUS / (2 * Math.PI)) *
    gaps.reduce((sum, gap) => sum + gap.strength * leverOf(gap.wavelength, wavelength), farLines);
  const bends = bendPlaces(hot, cold, lines, camera.rows).map(({ name, i }): HandoutBend => {
    const wavelength = hot.wavelength[i];
    const angle = hot.deflection[i];
    const height = (along(cold.wavelength, cold.row, wavelength) - hot.row[i]) / pixelsPerMm;
    return { ...at(name, wavelength), height, angle, gradient: (angle - gasAngle) / response(wavelength) };
  });
  if (bends.length === 0 || bends.every(({ height }) => Math.abs(height) < LEAST_HEIGHT)) {
    throw new Refusal({
      code: "nothing-to-measure",
      field: "setup",
      received: "one whose picture shows none such",
      expected,
    });
  }
  const n = hot.wavelength.length;
  const marks = [0.08, 0.92].map((share, i) => {
    const near = cold.wavelength[Math.round(share * (n - 1))];
    return at(`W${i + 1}`, Math.round(near * 1e9) * 1e-9);
  });
  const [first, second] = marks;
  return {
    pixelsPerMm,
    width: camera.columns / pixelsPerMm,
    height: camera.rows / pixelsPerMm,
    enlargement: 1e-3 / (pixelsPerMm * camera.pixel),
    perRadian: curve.scale.perRadian,
    marks,
    nmPerMm: ((second.wavelength - first.wavelength) * 1e9) / (second.x - first.x),
    gaps,
    bends,
    farLines,
    gasAngle,
    zero: zeroPlace(),
    columnGradient: vapour.middle.columnGradient,
    cold: [rowAt(0), rowAt(camera.columns)],
  };

  function inside({ x }: PaperPlace): boolean {
    return x > 0 && x < camera.columns / pixelsPerMm;
  }

  function rowAt(column: number): number {
    const order = cold.column[0] < cold.column[n - 1];
    const columns = order ? cold.column : cold.column.toReversed();
    return along(columns, order ? cold.row : cold.row.toReversed(), column) / pixelsPerMm;
  }

  function zeroPlace(): HandoutNumbers["zero"] {
    const z = curve.zeroBetweenLines;
    if (z === null || gaps.length !== 2) return null;
    const [short, long] = gaps.toSorted((a, b) => a.wavelength - b.wavelength);
    const others = leverOf(long.wavelength, z) + farLines / long.strength;
    return { ...at("Z", z), ratio: -others / leverOf(short.wavelength, z) };
  }
}

/** On each side of each gap the place where the band stands highest or lowest with light left; named P, Q, R, S. */
function bendPlaces(
  hot: CurvePoints,
  cold: CurvePoints,
  lines: readonly LineGap[],
  rows: number,
): { readonly name: string; readonly i: number }[] {
  const best = new Map<string, { i: number; size: number }>();
  for (let i = 0; i < hot.wavelength.length; i++) {
    if (hot.transmission[i] < LEAST_LIGHT || hot.row[i] < rows * 0.05 || hot.row[i] > rows * 0.95) continue;
    // Only next to its own line, and not so near that the band is too steep for a ruler.
    const line = lines.toSorted(
      (a, b) => Math.abs(a.wavelength - hot.wavelength[i]) - Math.abs(b.wavelength - hot.wavelength[i]),
    )[0] as LineGap | undefined;
    if (line === undefined || Math.abs(hot.wavelength[i] - line.wavelength) < 2 * line.halfGap) continue;
    const size = Math.abs(hot.row[i] - along(cold.wavelength, cold.row, hot.wavelength[i]));
    const key = `${line.line} ${hot.wavelength[i] > line.wavelength}`;
    if (size > (best.get(key)?.size ?? 0)) best.set(key, { i, size });
  }
  return [...best.values()]
    .toSorted((a, b) => b.size - a.size)
    .slice(0, 2)
    .map(({ i }, k) => ({ name: "PQ"[k], i }));
}

/** What a line of strength 1 adds to 2π (n − 1)/(r_e N), m². */
function leverOf(line: number, wavelength: number): number {
  return (line * wavelength) ** 2 / (wavelength ** 2 - line ** 2);
}

/** Value at `x` between points, x ascending; the end's beyond the ends. */
function along(xs: Float64Array, ys: Float64Array, x: number): number {
  const after = xs.findIndex((each) => each >= x);
  if (after < 0) return ys[ys.length - 1];
  if (after === 0) return ys[0];
  const share = (x - xs[after - 1]) / (xs[after] - xs[after - 1]);
  return ys[after - 1] + share * (ys[after] - ys[after - 1]);
}
