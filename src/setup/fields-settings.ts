/** Errors of setting, smoke and fog: what is not as it should be on the bench. */
import { type Field, length } from "./field-kinds.ts";

const turn = (path: string, label: string, show: string, most: number, sentence: string): Field => ({
  kind: "quantity",
  path,
  label,
  unit: "rad",
  show,
  min: -most,
  max: most,
  default: `0 ${show}`,
  sentence,
});

const depth = (path: string, label: string, sentence: string): Field => ({
  kind: "number",
  path,
  label,
  min: 0,
  max: 20,
  default: 0,
  sentence,
});

export const SETTINGS: readonly Field[] = [
  length(
    "path.levelSlitOffset",
    "level slit off axis",
    "mm",
    -0.05,
    0.05,
    "0 mm",
    "How far the level slit stands above the axis: the beam goes the other way.",
  ),
  length(
    "path.plumbSlitOffset",
    "plumb slit off axis",
    "um",
    -0.01,
    0.01,
    "0 um",
    "How far the plumb slit stands to the right of the axis: the whole spectrum moves with it.",
  ),
  turn(
    "path.plumbSlitTilt",
    "plumb slit off plumb",
    "mrad",
    0.1,
    "Lean of the plumb slit; positive leans the top of every spectral line to the right.",
  ),
  {
    ...turn(
      "path.disperser.turn",
      "disperser turned",
      "deg",
      0.5,
      "Rotation of the disperser about a plumb axis out of its right place.",
    ),
    when: { path: "path.disperser.kind", is: ["direct-vision", "prism", "grating"] },
  },
  turn(
    "path.tubeRoll",
    "tube rolled",
    "deg",
    3.1416,
    "Rotation of the tube about its axis; 180 deg is upside down.",
  ),
  turn(
    "path.windowWedge",
    "window wedge",
    "mrad",
    0.1,
    "Angle between the faces of both windows together; positive with the thick edge above.",
  ),
  depth("path.smoke", "smoke", "Optical depth of smoke before the level slit: it dims every colour alike."),
  {
    kind: "number",
    path: "path.smokeFlicker",
    label: "flicker of smoke",
    min: 0,
    max: 2,
    default: 0.3,
    sentence: "Standard deviation of the smoke from picture to picture, as a share of its optical depth.",
  },
  {
    kind: "quantity",
    path: "path.smokeTime",
    label: "wisps last",
    unit: "s",
    show: "s",
    min: 1e-3,
    max: 3600,
    default: "0.5 s",
    sentence: "How long a wisp of smoke lasts.",
  },
  depth("path.fog", "fog", "Optical depth of fog in the hot tube."),
];
