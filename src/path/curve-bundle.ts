/** Deflection and transmission of the beam, height by height: what the vapour does to the light before any lens of the second half. */
import type { PerAtom } from "../medium/api.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { BeamColumns } from "../vessel/api.ts";
import type { CurveBundle, PathInput } from "./api.ts";
import { fastBends } from "./bend-kernel.ts";
import { plainBends } from "./bend-loops.ts";
import { litWidth } from "./lamp-image.ts";

export interface CurveBundleInput {
  /** vacuum wavelength, m, ascending, length n */
  readonly wavelengths: Float64Array;
  /** (n−1)/N and α/N of the vapour: one for the whole beam, or one per height */
  readonly perAtom: PerAtom | readonly PerAtom[];
  readonly columns: BeamColumns;
  /** share of the beam, one per height, sum 1 */
  readonly weights: Float64Array;
  /** (n−1)/N of the buffer gas, m³: alike at every wavelength */
  readonly gasRefractivityPerDensity: number;
  /** memory to use again; the bundle then stands until it is used again; default: fresh */
  readonly room?: BundleRoom;
}

/** Memory of a bundle's two large arrays, grown when needed. */
interface BundleRoom {
  deflection: Float64Array;
  transmission: Float64Array;
}

/**
 * Small-angle answer: θ_y = κ(λ)·G(y) + κ_gas·G_gas(y), transmission exp(−σ(λ)·C(y)) (Beer–Lambert).
 * @returns curves per height; deflection in rad, positive upward at the tube
 * @throws Refusal where array lengths do not agree
 */
export function curveBundle(input: CurveBundleInput): CurveBundle {
  const { wavelengths, columns, weights } = input;
  const n = wavelengths.length;
  const heights = columns.heights.length;
  const list = Array.isArray(input.perAtom)
    ? (input.perAtom as readonly PerAtom[])
    : [input.perAtom as PerAtom];
  expectLength("weights", weights.length, heights);
  if (list.length !== 1) expectLength("perAtom", list.length, heights);
  for (const { refractivityPerDensity, crossSection } of list) {
    expectLength("perAtom.refractivityPerDensity", refractivityPerDensity.length, n);
    expectLength("perAtom.crossSection", crossSection.length, n);
  }
  const { deflection, transmission } = roomFor(heights * n, input.room);
  (fastBends() ?? plainBends)({
    perAtom: list,
    gradient: columns.columnGradient,
    gas: columns.gasColumnGradient.map((gradient) => input.gasRefractivityPerDensity * gradient),
    density: columns.columnDensity,
    deflection,
    transmission,
  });
  return { wavelengths, weights, deflection, transmission };
}

function roomFor(length: number, room: BundleRoom | undefined): BundleRoom {
  if (room === undefined)
    return { deflection: new Float64Array(length), transmission: new Float64Array(length) };
  if (room.deflection.length < length) {
    room.deflection = new Float64Array(length);
    room.transmission = new Float64Array(length);
  }
  return {
    deflection: room.deflection.subarray(0, length),
    transmission: room.transmission.subarray(0, length),
  };
}

/** The same light with the tube cold and empty: one straight curve that keeps all its light. */
export function coldBundle(wavelengths: Float64Array): CurveBundle {
  return {
    wavelengths,
    weights: new Float64Array([1]),
    deflection: new Float64Array(wavelengths.length),
    transmission: new Float64Array(wavelengths.length).fill(1),
  };
}

/**
 * Strips of equal height that make up the beam, each with the light that the condenser's cone sends through it where the lamp's image is asked for, else alike.
 * @param count number of strips, ≥ 1
 * @returns heights of their middles above the tube's axis, m, ascending, and their shares
 */
export function beamStrips(path: PathInput, count: number): { heights: Float64Array; weights: Float64Array } {
  const heights = new Float64Array(count);
  for (let h = 0; h < count; h++) heights[h] = path.beamHeight + path.beamSize * ((h + 0.5) / count - 0.5);
  if (path.lampImage !== true) return { heights, weights: new Float64Array(count).fill(1 / count) };
  const lit = heights.map((height) => litWidth(path, height - path.beamHeight));
  const sum = lit.reduce((all, share) => all + share, 0);
  if (sum === 0) {
    throw new Refusal({
      code: "beam-dark",
      field: "path.condenserDiameter",
      received: "a cone narrower than one strip of the beam",
      expected: "a wider condenser, or more slices of the beam",
    });
  }
  return { heights, weights: lit.map((share) => share / sum) };
}

function expectLength(field: string, received: number, expected: number): void {
  if (received === expected) return;
  throw new Refusal({
    code: "length-mismatch",
    field,
    received: `${received} values`,
    expected: `${expected} values`,
  });
}
