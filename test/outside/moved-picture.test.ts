/**
 * Potassium's red pair behind a grating, both slits off the axis and everything out of focus, against the independent renderer (numpy and scipy): test/outside/generators/moved_picture.py says how and
 * writes out the grating's equation; here the program's own map, its bow, its slits' offsets and its blur are at work.
 */
import { describe, expect, it } from "vitest";
import { perAtom, type VapourState } from "../../src/medium/index.ts";
import {
  curveGrid,
  type ImageScale,
  imageScale,
  type PathInput,
  spectralMap,
  throughBench,
  USUAL_RAIL,
} from "../../src/path/index.ts";
import { type CurveBundle, renderLight } from "../../src/picture/index.ts";
import fixture from "./fixtures/moved-picture.json" with { type: "json" };

const { case: given, light: expected } = fixture;
const pixel = 1.2e-5;
const path: PathInput = {
  rail: USUAL_RAIL,
  source: { kind: "flat" },
  levelSlit: 90e-6,
  levelSlitOffset: 80e-6,
  plumbSlit: 25e-6,
  plumbSlitOffset: 60e-6,
  collimatorFocalLength: 0.25,
  focalLength: 0.3,
  secondCollimatorFocalLength: 0.3,
  cameraFocalLength: 0.4,
  disperser: { kind: "grating", groovesPerMetre: 6e5, order: 1 },
  centreWavelength: 768.4046e-9,
  beamHeight: 0,
  beamSize: given.beam,
  beamWidth: given.beam,
  stray: 0,
  cameraRoll: 0,
  levelSlitTilt: 0,
  defocus: 24e-6,
  inverted: false,
};
const HEIGHTS = 61;

function state(column: number): VapourState {
  return {
    element: "K",
    density: column / given.length,
    temperature: given.temperature,
    structure: "merged",
    overrides: { oscillatorStrength: { "KI-766.70vac": given.lines[0].f, "KI-770.11vac": given.lines[1].f } },
  };
}

describe("potassium's pair behind a grating, slits displaced, out of focus", () => {
  const map = spectralMap(path);
  const scale: ImageScale = imageScale(path, map, { diffraction: false });
  const { wavelengths } = curveGrid({
    map,
    // A tenth wider than the sensor: the usual 2 % beyond its edges is less than this blur reaches.
    width: 1.1 * given.columns * pixel,
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
  const sensor = { pixel, columns: given.columns, rows: given.rows };
  const through = throughBench(bundle, path, { heights: new Float64Array(HEIGHTS), edges: {}, hot: true });
  const light = renderLight(through, map, scale, sensor);

  it("agrees within the noise of 10 000 electrons, pixel by pixel and in all", () => {
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
  });
});
