/** What of a path its dear parts depend on: a door that keeps them while a control is dragged makes them anew when one of these has changed. */
import type { PathInput } from "./api.ts";

/** All that `spectralMap` looks at, ready to be told apart as JSON. */
export function mapInputs(path: PathInput): readonly unknown[] {
  const { disperser, centreWavelength, cameraFocalLength, secondCollimatorFocalLength } = path;
  const { plumbSlitOffset = 0, plumbSlitTilt = 0, lateralColour } = path;
  return [
    ...[disperser, centreWavelength, cameraFocalLength, secondCollimatorFocalLength],
    ...[plumbSlitOffset, plumbSlitTilt],
    plumbSlitTilt === 0 ? null : [path.levelSlitTilt, path.inverted],
    lateralColour === undefined ? null : path,
  ];
}

/** All that `beamStrips` and the tube's roll look at. */
export function beamInputs(path: PathInput): readonly unknown[] {
  const { beamHeight, beamSize, tubeRoll = 0 } = path;
  const { condenserDiameter, condenserOffset, aperture, beamWidth, collimatorFocalLength, rail } = path;
  return [
    ...[beamHeight, beamSize, tubeRoll],
    path.lampImage === true
      ? [
          ...[condenserDiameter, condenserOffset, aperture, beamWidth, collimatorFocalLength],
          rail.condenserToSlit,
        ]
      : null,
  ];
}
