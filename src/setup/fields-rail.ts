/** How far apart things stand on the rail where the light between them is parallel, or not yet gathered; focal distances are kept by the lenses themselves. */
import { type Field, length } from "./field-kinds.ts";

const apart = (name: string, label: string, preset: string, sentence: string): Field =>
  length(`path.rail.${name}`, label, "mm", 0.005, 5, preset, sentence);

export const RAIL: readonly Field[] = [
  apart("lampToCondenser", "lamp to condenser", "140 mm", "From the lamp to the middle of the condenser."),
  apart(
    "condenserToSlit",
    "condenser to slit",
    "160 mm",
    "From the middle of the condenser to the level slit.",
  ),
  apart(
    "collimatorToTube",
    "collimator to tube",
    "70 mm",
    "From the collimator to the nearer window of the tube; the light between them is parallel.",
  ),
  apart(
    "tubeToLens",
    "tube to lens",
    "70 mm",
    "From the farther window to the focusing lens: bent light walks away from the axis on this stretch and may miss the lens.",
  ),
  apart(
    "collimatorToDisperser",
    "collimator to disperser",
    "70 mm",
    "From the second collimator to the disperser's first face.",
  ),
  apart(
    "disperserToCamera",
    "disperser to camera lens",
    "70 mm",
    "From the disperser's last face to the camera lens.",
  ),
];
