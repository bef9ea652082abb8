/** Fields of what differs from colour to colour beyond focus: size and losses; and of the lamp's image on the level slit. */
import { type Field, length } from "./field-kinds.ts";

const aside = (what: string, name: string, label: string, where: string): Field =>
  length(
    `path.${what}${name}`,
    `${what} ${label}`,
    "mm",
    -0.1,
    0.1,
    "0 mm",
    `How far the ${what} stands ${where} the axis.`,
  );

export const COLOUR: readonly Field[] = [
  {
    kind: "choice",
    path: "path.losses",
    label: "losses",
    options: ["usual", "each-colour"],
    default: "usual",
    sentence:
      "Ten glass faces at one figure; or every window, lens and the disperser by its glass at each colour, and the picture shows it.",
  },
  {
    kind: "table",
    path: "path.disperser.passes",
    label: "light passed",
    columns: [1],
    unit: "1",
    min: 0,
    max: 1,
    optional: true,
    sentence:
      "Measured share of light that the disperser passes against vacuum wavelength, beside what is computed.",
  },
  {
    kind: "quantity",
    path: "path.disperser.blaze",
    label: "blaze",
    unit: "m",
    show: "nm",
    min: 2e-7,
    max: 2e-6,
    optional: true,
    when: { path: "path.disperser.kind", is: ["grating"] },
    sentence: "Vacuum wavelength at which the order is brightest; left out, all are alike.",
  },
  {
    kind: "choice",
    path: "path.lateralColour",
    label: "size of colours",
    options: ["alike", "by-lenses", "stated"],
    default: "alike",
    sentence:
      "Whether all colours are drawn equally large, as the lenses' focal shift makes them, or by a stated share.",
  },
  {
    kind: "quantity",
    path: "path.lateralShift",
    label: "size per wavelength",
    unit: "1/m",
    show: "1/nm",
    min: -1e6,
    max: 1e6,
    default: "0 /nm",
    when: { path: "path.lateralColour", is: ["stated"] },
    sentence: "Relative change of the picture's size per wavelength, from the colour in focus.",
  },
  {
    kind: "table",
    path: "path.lensTable",
    label: "focal lengths",
    columns: [1],
    unit: "m",
    min: 1e-3,
    max: 100,
    when: { path: "path.lensKind", is: ["table"] },
    sentence: "Measured focal length of a lens against vacuum wavelength.",
  },
  {
    kind: "choice",
    path: "path.lensMeasured",
    label: "lens measured",
    options: ["all", "collimator", "focusing", "second-collimator", "camera"],
    default: "all",
    when: { path: "path.lensKind", is: ["table"] },
    sentence: "Which lens the table is of; all: every lens changes by the same share.",
  },
  {
    kind: "flag",
    path: "path.lampImage",
    label: "lamp in the picture",
    default: false,
    sentence:
      "Whether the lamp's image on the slit and the condenser's round cone shape slit image and beam.",
  },
  ...["lamp", "condenser"].flatMap((what) => [
    aside(what, "Up", "too high", "above"),
    aside(what, "Right", "aside", "to the right of"),
  ]),
  {
    kind: "table",
    path: "path.source.profile",
    label: "spot profile",
    columns: [1],
    unit: "1",
    min: 0,
    max: 1e12,
    optional: true,
    sentence:
      "Brightness of the luminous spot against distance from its middle; takes the place of its diameter.",
  },
];
