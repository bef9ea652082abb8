/** Fields of a hollow prism filled with dye. */
import { SOLVENT_CHOICES } from "./choices.ts";
import { type Field, length, type QuantityField } from "./field-kinds.ts";

const PRISM = { when: { path: "vessel.kind", is: ["prism"] } } as const;

const concentration = (path: string, label: string, preset: string, sentence: string): QuantityField => ({
  kind: "quantity",
  path,
  label,
  unit: "mol.m-3",
  show: "mmol/L",
  min: 0,
  max: 1e4,
  default: preset,
  sentence,
  ...PRISM,
});

/** The dye and its solvent. */
export const SOLUTION: readonly Field[] = [
  {
    kind: "table",
    path: "medium.absorbance",
    label: "absorbance of the dye",
    optional: true,
    columns: [1],
    unit: "1",
    min: -1,
    max: 100,
    sentence: "Decadic absorbance of a sample over vacuum wavelength; the index follows from it.",
    ...PRISM,
  },
  {
    ...length("medium.samplePath", "sample's path", "mm", 1e-6, 1, "10 mm", "Thickness of that sample."),
    ...PRISM,
  },
  concentration(
    "medium.sampleConcentration",
    "sample's concentration",
    "0.01 mmol/L",
    "Of dye in that sample.",
  ),
  {
    kind: "table",
    path: "medium.oscillators",
    label: "bands by hand",
    optional: true,
    columns: [2],
    unit: "1",
    min: 0,
    max: 100,
    sentence:
      "Instead of a table: vacuum wavelength, strength f of a molecule, full width over the frequency.",
    ...PRISM,
  },
  concentration("medium.concentration", "concentration", "1 mmol/L", "Of dye in the prism."),
  {
    kind: "choice",
    path: "medium.solvent",
    label: "solvent",
    options: SOLVENT_CHOICES,
    default: "water",
    sentence: "What the dye is dissolved in.",
    ...PRISM,
  },
  {
    kind: "number",
    path: "medium.solventIndex",
    label: "its index",
    min: 1,
    max: 3,
    default: 1.36,
    sentence: "Index of another solvent, the same at every wavelength.",
    when: { path: "medium.solvent", is: ["other"] },
  },
];

/** The glass around it. */
export const PRISM_VESSEL: readonly Field[] = [
  {
    kind: "quantity",
    path: "vessel.apex",
    label: "apex angle",
    unit: "rad",
    show: "deg",
    min: 1e-3,
    max: 1.6,
    default: "8 deg",
    sentence: "Angle between the prism's inner faces.",
    ...PRISM,
  },
  {
    kind: "choice",
    path: "vessel.edge",
    label: "edge",
    options: ["above", "below"],
    default: "above",
    sentence: "Where the prism's edge lies.",
    ...PRISM,
  },
  {
    ...length(
      "vessel.edgeDistance",
      "axis to edge",
      "mm",
      1e-5,
      0.2,
      "5 mm",
      "From the axis to the edge of the liquid.",
    ),
    ...PRISM,
  },
  {
    kind: "quantity",
    path: "vessel.incidence",
    label: "incidence",
    unit: "rad",
    show: "deg",
    min: -1.4,
    max: 1.4,
    optional: true,
    sentence: "On the first face; left out, that of least deviation.",
    ...PRISM,
  },
  {
    kind: "text",
    path: "vessel.wallGlass",
    label: "walls of",
    names: "glass",
    default: "517642",
    sentence: "Glass of the prism's walls.",
    ...PRISM,
  },
  { ...length("vessel.prismWall", "wall", "mm", 0, 0.05, "2 mm", "Thickness of each wall."), ...PRISM },
  {
    kind: "quantity",
    path: "vessel.solutionTemperature",
    label: "solution at",
    unit: "K",
    show: "degC",
    min: 260,
    max: 370,
    default: "20 degC",
    sentence: "Temperature of the solution.",
    ...PRISM,
  },
];
