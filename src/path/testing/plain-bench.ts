import type { PathInput } from "../api.ts";
import { USUAL_RAIL } from "../usual-rail.ts";

/**
 * A light path for tests, as plain as they come: no lens magnifies, the map of wavelengths is straight (5 nm to the millimetre), nothing is tilted,
 * strays or blurs.
 *
 * @param change what the test is about
 */
export function plainBench(change: Partial<PathInput> = {}): PathInput {
  return {
    rail: USUAL_RAIL,
    source: { kind: "flat" },
    levelSlit: 50e-6,
    plumbSlit: 20e-6,
    collimatorFocalLength: 0.3,
    focalLength: 0.3,
    secondCollimatorFocalLength: 0.3,
    cameraFocalLength: 0.3,
    disperser: { kind: "linear", wavelengthPerLength: 5e-6 },
    centreWavelength: 550e-9,
    beamHeight: 0,
    beamSize: 0.02,
    beamWidth: 0.02,
    stray: 0,
    cameraRoll: 0,
    levelSlitTilt: 0,
    defocus: 0,
    inverted: false,
    ...change,
  };
}
