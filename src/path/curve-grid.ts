/** Wavelengths at which to follow the curve: even along the sensor, dense where the curve is steep. */
import { log } from "../numerics/elementary/index.ts";
import type { PerAtom } from "../medium/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { SpectralMap } from "./api.ts";

export interface CurveGridInput {
  readonly map: SpectralMap;
  /** width of the sensor, m */
  readonly width: number;
  /** height of the sensor, m: what leaves it need not be followed */
  readonly height: number;
  /** how far beyond either side light still strays onto the sensor, by blur, slit image or roll, m; default and least: 2 % of the width */
  readonly beyond?: number;
  /** how far apart on the sensor neighbouring points may be, m, across and along the height: a pixel's pitch */
  readonly step: number;
  /** (n−1)/N and α/N over vacuum wavelengths in m */
  perAtom(wavelengths: Float64Array): PerAtom;
  /** columns in the middle of the beam: ∫N dz, m⁻² */
  readonly columnDensity: number;
  /** ∫∂N/∂y dz, m⁻³ */
  readonly columnGradient: number;
  /** m on the sensor per rad at the tube */
  readonly perRadian: number;
  /** light darker than this share is not followed; default 1e-5 */
  readonly darkest?: number;
}

export interface CurveGrid {
  /** vacuum wavelength, m, ascending */
  readonly wavelengths: Float64Array;
  readonly perAtom: PerAtom;
}

/** Rounds of refinement; each may part an interval into up to 64. */
const ROUNDS = 4;

/**
 * Grid over the sensor's width (and `beyond` it) within the reach of the disperser: even in position at `step`, then parted further wherever the
 * curve's height moves by more than 0.4 to 4 steps between neighbours and still carries light within the sensor.
 * Cost: as many evaluations of `perAtom` as points returned, in five calls at most.
 */
export function curveGrid(input: CurveGridInput): CurveGrid {
  const darkest = input.darkest ?? 1e-5;
  let wavelengths = evenInPosition(input);
  let atom = input.perAtom(wavelengths);
  for (let round = 0; round < ROUNDS; round++) {
    const parts = partsWanted(input, wavelengths, atom, darkest);
    let extra = 0;
    for (const p of parts) extra += p - 1;
    if (extra === 0) break;
    const fresh = new Float64Array(extra);
    let k = 0;
    for (let i = 0; i + 1 < wavelengths.length; i++) {
      const a = wavelengths[i];
      const d = (wavelengths[i + 1] - a) / parts[i];
      for (let j = 1; j < parts[i]; j++) fresh[k++] = a + d * j;
    }
    const values = input.perAtom(fresh);
    [wavelengths, atom] = merged(wavelengths, atom, fresh, values, parts);
  }
  return { wavelengths, perAtom: atom };
}

/** Vacuum wavelengths at equal steps along the sensor; longer and shorter than the reach are left out. */
function evenInPosition(input: CurveGridInput): Float64Array {
  const { map, width, step } = input;
  // Whole steps beyond the edges, half a step in: points then fall on the middles of pixels.
  const margin = (Math.ceil(Math.max(0.02 * width, input.beyond ?? 0) / step) - 0.5) * step;
  const from = Math.max(-width / 2 - margin, map.reach.left);
  const to = Math.min(width / 2 + margin, map.reach.right);
  if (!(to > from)) {
    throw new Refusal({
      code: "no-light-on-sensor",
      field: "path.disperser",
      received: "a disperser that sends nothing to the sensor",
      expected: "a disperser and a centre wavelength that light the sensor",
    });
  }
  const count = Math.max(2, Math.ceil((to - from) / step - 1e-6) + 1);
  // Inverting the map is the dear part: one inversion in sixteen, and cubic interpolation between (error far below a step).
  const coarse = Math.ceil((count - 1) / 16) + 1;
  const pitch = (to - from) / (coarse - 1);
  const nodes = new Float64Array(coarse + 2);
  for (let i = 1; i <= coarse; i++) nodes[i] = map.wavelengthAt(Math.min(to, from + (i - 1) * pitch));
  nodes[0] = 3 * nodes[1] - 3 * nodes[2] + (coarse > 2 ? nodes[3] : 2 * nodes[2] - nodes[1]);
  nodes[coarse + 1] =
    3 * nodes[coarse] - 3 * nodes[coarse - 1] + (coarse > 2 ? nodes[coarse - 2] : 2 * nodes[1] - nodes[2]);
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = (i * (coarse - 1)) / (count - 1);
    const cell = Math.min(coarse - 2, Math.floor(at));
    const t = at - cell;
    const a = nodes[cell];
    const b = nodes[cell + 1];
    const c = nodes[cell + 2];
    const d = nodes[cell + 3];
    out[i] = b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
  }
  return out;
}

/** Into how many parts each interval must go. */
function partsWanted(
  input: CurveGridInput,
  wavelengths: Float64Array,
  atom: PerAtom,
  darkest: number,
): Int32Array {
  const toHeight = input.columnGradient * input.perRadian;
  // Half the height and a little: what lies beyond is off the picture.
  const limit = 0.55 * input.height;
  const deepest = -log(darkest);
  const parts = new Int32Array(wavelengths.length - 1).fill(1);
  for (let i = 0; i + 1 < wavelengths.length; i++) {
    const ya = atom.refractivityPerDensity[i] * toHeight;
    const yb = atom.refractivityPerDensity[i + 1] * toHeight;
    const ta = atom.crossSection[i] * input.columnDensity;
    const tb = atom.crossSection[i + 1] * input.columnDensity;
    if (Math.min(ta, tb) > deepest) continue;
    if (Math.min(Math.abs(ya), Math.abs(yb)) > limit && Math.sign(ya) === Math.sign(yb)) continue;
    const move =
      Math.abs(clamp(yb, limit) - clamp(ya, limit)) /
      stepAt(Math.max(Math.abs(ya), Math.abs(yb)), input.step);
    // The light's own fall must be followed too: steps of at most a quarter of an optical depth where some light is left.
    const fall = Math.min(Math.abs(tb - ta), deepest) * 4;
    parts[i] = Math.min(64, Math.max(1, Math.ceil(Math.max(move, fall))));
  }
  return parts;
}

/**
 * How far the height may move between neighbours. A hyperbola's chord over a move m at height y errs by m²/(4y): 0.75 % of a step is allowed,
 * between 0.4 of a step and four steps.
 */
function stepAt(height: number, step: number): number {
  return Math.min(4 * step, Math.max(0.4 * step, Math.sqrt(0.03 * height * step)));
}

function clamp(y: number, limit: number): number {
  return Math.min(limit, Math.max(-limit, y));
}

function merged(
  old: Float64Array,
  atom: PerAtom,
  fresh: Float64Array,
  values: PerAtom,
  parts: Int32Array,
): [Float64Array, PerAtom] {
  const n = old.length + fresh.length;
  const wavelengths = new Float64Array(n);
  const refractivityPerDensity = new Float64Array(n);
  const crossSection = new Float64Array(n);
  let to = 0;
  let from = 0;
  for (let i = 0; i < old.length; i++) {
    wavelengths[to] = old[i]!;
    refractivityPerDensity[to] = atom.refractivityPerDensity[i]!;
    crossSection[to++] = atom.crossSection[i]!;
    const more = i < parts.length ? parts[i] - 1 : 0;
    for (let j = 0; j < more; j++) {
      wavelengths[to] = fresh[from]!;
      refractivityPerDensity[to] = values.refractivityPerDensity[from]!;
      crossSection[to++] = values.crossSection[from++]!;
    }
  }
  return [wavelengths, { refractivityPerDensity, crossSection }];
}
