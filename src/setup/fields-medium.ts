import { HEATABLE } from "./choices.ts";
import type { Field } from "./field-kinds.ts";

export const MEDIUM: readonly Field[] = [
  {
    kind: "choice",
    path: "medium.element",
    label: "metal",
    options: HEATABLE,
    sentence: "The metal whose vapour bends and absorbs the light.",
  },
  {
    kind: "choice",
    path: "medium.structure",
    label: "line structure",
    options: ["hyperfine", "merged"],
    default: "hyperfine",
    sentence: "Lines split into isotopes and hyperfine components, or each merged into one.",
  },
  {
    kind: "choice",
    path: "medium.pressureEquation",
    label: "pressure equation",
    options: ["alcock-practical", "alcock-precise", "nesmeyanov", "crc"],
    default: "alcock-practical",
    sentence: "The published equation that gives the vapour pressure over the metal.",
  },
  {
    kind: "quantity",
    path: "medium.gasWidth",
    label: "width by the gas",
    unit: "Hz",
    show: "MHz",
    min: 0,
    max: 1e12,
    optional: true,
    sentence:
      "Full width at half maximum that the buffer gas adds to each line, entered by hand instead of published rates.",
  },
  {
    kind: "by-line",
    path: "medium.strengths",
    label: "strengths by hand",
    min: 0,
    max: 10,
    optional: true,
    sentence: "Absorption oscillator strengths entered by hand, by line id, instead of the published ones.",
  },
];
