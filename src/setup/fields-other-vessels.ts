/** Which vessel holds the vapour, and the fields of those that are no tube. */
import { VESSEL_KINDS } from "./choices.ts";
import { type Field, length, type QuantityField } from "./field-kinds.ts";

export const VESSEL_KIND: Field = {
  kind: "choice",
  path: "vessel.kind",
  label: "vessel",
  options: VESSEL_KINDS,
  default: "tube",
  sentence:
    "What holds the vapour: a tube with a cooled top, a sealed cell in an oven, a salted flame; or a hollow prism with dye.",
};

const only = (...is: readonly string[]): { readonly when: NonNullable<Field["when"]> } => ({
  when: { path: "vessel.kind", is },
});

const temperature = (path: string, label: string, sentence: string): QuantityField => ({
  kind: "quantity",
  path,
  label,
  unit: "K",
  show: "degC",
  min: 200,
  max: 3500,
  sentence,
});

export const OTHER_VESSELS: readonly Field[] = [
  {
    ...length(
      "vessel.pathLength",
      "path in the vapour",
      "mm",
      1e-4,
      5,
      "50 mm",
      "Way of the light inside the cell, or through the flame.",
    ),
    ...only("cell", "flame"),
  },
  {
    ...temperature(
      "vessel.sideArm",
      "side arm",
      "Coldest point of the sealed cell, where the metal lies: it sets the vapour's pressure.",
    ),
    ...only("cell"),
  },
  {
    ...temperature(
      "vessel.body",
      "body",
      "The sealed cell's body and the vapour in it, at least as warm as the side arm.",
    ),
    ...only("cell"),
  },
  {
    kind: "quantity",
    path: "vessel.cellGasPressure",
    label: "gas in the cell",
    unit: "Pa",
    show: "mbar",
    min: 0,
    max: 1e6,
    default: "0 mbar",
    sentence: "Pressure of buffer gas in the sealed cell while hot; none in most.",
    ...only("cell"),
  },
  {
    kind: "quantity",
    path: "vessel.flameDensity",
    label: "atoms in the flame",
    unit: "m-3",
    show: "m-3",
    min: 1e10,
    max: 1e26,
    sentence: "Atoms of the metal in the middle of the flame, in a cubic metre.",
    ...only("flame"),
  },
  {
    ...temperature("vessel.flameTemperature", "flame at", "Temperature of the salted flame."),
    ...only("flame"),
  },
  {
    ...length(
      "vessel.flameWidth",
      "half-width of the flame",
      "mm",
      1e-4,
      0.2,
      "10 mm",
      "Half-width of the salted layer in height, to 1/e of the density.",
    ),
    ...only("flame"),
  },
  {
    kind: "quantity",
    path: "vessel.flameHeight",
    label: "middle of the flame",
    unit: "m",
    show: "mm",
    min: -0.2,
    max: 0.2,
    default: "0 mm",
    sentence:
      "Height of the salted layer's middle above the axis; half a width beside it the light bends most.",
    ...only("flame"),
  },
];
