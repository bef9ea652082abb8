/** Potassium's red pair as the program's own line profiles bend and absorb it, laid down for pictures that the independent renderer draws too, and how far two pictures lie apart. */
import { expect } from "vitest";
import { perAtom, type VapourState } from "../../src/medium/index.ts";
import { curveGrid, type ImageScale, type SpectralMap } from "../../src/path/index.ts";
import type { CurveBundle } from "../../src/picture/index.ts";

/** Of the independent picture's case, what the vapour needs. */
interface Pair {
  readonly columns: number;
  readonly rows: number;
  /** ∫N dz at the middle of the beam, m⁻² */
  readonly column: number;
  /** ∫∂N/∂y dz there, m⁻³ */
  readonly gradient: number;
  /** share by which the gradient grows from the middle to the upper edge of the beam */
  readonly change: number;
  /** length of the vapour, m */
  readonly length: number;
  /** K */
  readonly temperature: number;
  /** height of the beam, m */
  readonly beam: number;
  readonly lines: readonly { readonly f: number }[];
}

/** Heights of the beam that are drawn. */
export const HEIGHTS = 61;

/** @param pixel m  @param wider how much wider than the sensor the curve is followed */
export function pairBundle(
  given: Pair,
  map: SpectralMap,
  scale: ImageScale,
  pixel: number,
  wider = 1,
): CurveBundle {
  const [first, second] = given.lines.map(({ f }) => f);
  const state = (column: number): VapourState => ({
    element: "K",
    density: column / given.length,
    temperature: given.temperature,
    structure: "merged",
    overrides: { oscillatorStrength: { "KI-766.70vac": first, "KI-770.11vac": second } },
  });
  const { wavelengths } = curveGrid({
    map,
    width: wider * given.columns * pixel,
    height: given.rows * pixel,
    step: pixel,
    perAtom: (at) => perAtom(state(given.column), at),
    columnDensity: given.column,
    columnGradient: given.gradient,
    perRadian: scale.perRadian,
  });
  const n = wavelengths.length;
  const bundle: CurveBundle = {
    wavelengths,
    weights: new Float64Array(HEIGHTS).fill(1 / HEIGHTS),
    deflection: new Float64Array(HEIGHTS * n),
    transmission: new Float64Array(HEIGHTS * n),
  };
  for (let h = 0; h < HEIGHTS; h++) {
    const t = (2 * (h + 0.5)) / HEIGHTS - 1;
    const column = given.column + given.gradient * (given.beam / 2) * t * (1 + (t * given.change) / 2);
    const { refractivityPerDensity, crossSection } = perAtom(state(column), wavelengths);
    for (let i = 0; i < n; i++) {
      bundle.deflection[h * n + i] = refractivityPerDensity[i] * given.gradient * (1 + t * given.change);
      bundle.transmission[h * n + i] = Math.exp(-crossSection[i] * column);
    }
  }
  return bundle;
}

/** Fails unless the pictures agree within the noise of 10 000 electrons with 3 of read noise, pixel by pixel and in all. */
export function expectAgreement(light: Float32Array, expected: readonly number[]): void {
  let worst = 0;
  let chi = 0;
  let sum = 0;
  let expectedSum = 0;
  let lit = 0;
  for (let p = 0; p < light.length; p++) {
    const noise = Math.sqrt(expected[p] / 10000 + (3 / 10000) ** 2);
    const off = (light[p] - expected[p]) / noise;
    worst = Math.max(worst, Math.abs(off));
    if (expected[p] > 1e-3) {
      chi += off * off;
      lit++;
    }
    sum += light[p];
    expectedSum += expected[p];
  }
  // What the two differ by is a small part of what any picture would scatter by itself.
  expect(Math.sqrt(chi / lit)).toBeLessThan(0.35);
  expect(worst).toBeLessThan(3);
  expect(Math.abs(sum / expectedSum - 1)).toBeLessThan(1e-3);
}
