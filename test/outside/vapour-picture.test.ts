/**
 * A picture of potassium's red pair, physics and all, against an independent renderer (numpy and scipy): test/outside/generators/vapour_picture.py says how. The
 * curve here comes from the program's own line profiles and tables; the plumb slit leans, the cold line slopes, the camera is rolled, the lines are bowed.
 */
import { describe, expect, it } from "vitest";
import {
  type ImageScale,
  imageScale,
  type PathInput,
  spectralMap,
  USUAL_RAIL,
} from "../../src/path/index.ts";
import { expose, renderLight } from "../../src/picture/index.ts";
import { expectAgreement, pairBundle } from "./potassium-pair.ts";
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
describe("potassium's pair with slits, camera and lines askew", () => {
  const map = { ...spectralMap(path), smile: given.smile / pixel };
  const scale: ImageScale = {
    ...imageScale(path, map, { diffraction: false }),
    blurHeight: given.sigma_y * pixel,
    blurWidth: given.sigma_x * pixel,
  };
  const bundle = pairBundle(given, map, scale, pixel);
  const sensor = { pixel, columns: given.columns, rows: given.rows };
  const light = renderLight(bundle, map, scale, sensor);

  it("agrees within the noise of 10 000 electrons, pixel by pixel and in all", () => {
    expectAgreement(light, expected);
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
