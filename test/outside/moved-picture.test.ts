/**
 * Potassium's red pair behind a grating, both slits off the axis and everything out of focus, against the independent renderer (numpy and scipy): test/outside/generators/moved_picture.py says how and
 * writes out the grating's equation; here the program's own map, its bow, its slits' offsets and its blur are at work.
 */
import { describe, it } from "vitest";
import {
  type ImageScale,
  imageScale,
  type PathInput,
  spectralMap,
  throughBench,
  USUAL_RAIL,
} from "../../src/path/index.ts";
import { renderLight } from "../../src/picture/index.ts";
import { expectAgreement, HEIGHTS, pairBundle } from "./potassium-pair.ts";
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
describe("potassium's pair behind a grating, slits displaced, out of focus", () => {
  const map = spectralMap(path);
  const scale: ImageScale = imageScale(path, map, { diffraction: false });
  // A tenth wider than the sensor: the usual 2 % beyond its edges is less than this blur reaches.
  const bundle = pairBundle(given, map, scale, pixel, 1.1);
  const sensor = { pixel, columns: given.columns, rows: given.rows };
  const through = throughBench(bundle, path, { heights: new Float64Array(HEIGHTS), edges: {}, hot: true });
  const light = renderLight(through, map, scale, sensor);

  it("agrees within the noise of 10 000 electrons, pixel by pixel and in all", () => {
    expectAgreement(light, expected);
  });
});
