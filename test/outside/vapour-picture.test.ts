/**
 * A picture of potassium's red pair, physics and all, against an independent renderer (numpy and scipy): test/outside/generators/vapour_picture.py says how. The
 * curve here comes from the program's own line profiles and tables; the plumb slit leans, the cold line slopes, the camera is rolled, the lines are bowed.
 */
import { describe, expect, it } from "vitest";
import { perAtom, type VapourState } from "../../src/medium/index.ts";
import {
  curveGrid,
  type ImageScale,
  imageScale,
  type PathInput,
  spectralMap,
  USUAL_RAIL,
} from "../../src/path/index.ts";
import { type CurveBundle, expose, renderLight } from "../../src/picture/index.ts";
import fixture from "./fixtures/vapour-picture.json" with { type: "json" };

const { case: given, light: expected } = fixture;
const pixel = 1e-5;
const path: PathInput = {
  rail: USUAL_RAIL,
  source: { kind: "flat" },
  levelSlit: given.level_height * pixel,
  plumbSlit: given.plumb_width * pixel,
  collimatorFocalLength: given.pixels_per_radian * pixel,
  focalLength: given.pixels_per_radian * pixel,
  secondCollimatorFocalLength: 1,
  cameraFocalLength: 1,
  disperser: { kind: "linear", wavelengthPerLength: given.scale[1] / pixel },
  centreWavelength: given.scale[0],
  beamHeight: 0,
  beamSize: given.beam,
  beamWidth: given.beam,
  stray: 0,
  cameraRoll: given.roll,
  levelSlitTilt: given.slit_tilt,
  plumbSlitTilt: -given.plumb_tilt,
  defocus: 0,
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

describe("potassium's pair with slits, camera and lines askew", () => {
  const map = { ...spectralMap(path), smile: given.smile / pixel };
  const scale: ImageScale = {
    ...imageScale(path, map, { diffraction: false }),
    blurHeight: given.sigma_y * pixel,
    blurWidth: given.sigma_x * pixel,
  };
  const { wavelengths } = curveGrid({
    map,
    width: given.columns * pixel,
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
  const light = renderLight(bundle, map, scale, sensor);

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

  it("an exposed picture scatters about the independent light as its noise says: χ² per lit pixel is 1", () => {
    const camera = {
      ...sensor,
      exposure: 1,
      rate: 10000,
      fullWell: 15000,
      readNoise: 3,
      blackLevel: 0.02,
      bitDepth: 16,
      gamma: 1,
      seed: 5,
    } as const;
    const { samples } = expose(light, camera);
    let chi = 0;
    let lit = 0;
    for (let p = 0; p < samples.length; p++) {
      if (expected[p] < 1e-3) continue;
      const electrons = ((samples[p] / 65535 - 0.02) / 0.98) * 15000;
      chi += (electrons - expected[p] * 10000) ** 2 / (expected[p] * 10000 + 9);
      lit++;
    }
    expect(lit).toBeGreaterThan(1500);
    expect(Math.abs(chi / lit - 1)).toBeLessThan(0.15);
  });
});
