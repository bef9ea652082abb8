import { HEATABLE } from "./choices.ts";
import type { Field } from "./field-kinds.ts";

/** Fields of a metal; a prism holds none. */
const OF_METAL = { when: { path: "vessel.kind", is: ["tube", "cell", "flame"] } } as const;

export const MEDIUM: readonly Field[] = [
  {
    kind: "choice",
    path: "medium.element",
    ...OF_METAL,
    label: "metal",
    options: HEATABLE,
    sentence: "The metal whose vapour bends and absorbs the light.",
  },
  {
    kind: "choice",
    path: "medium.structure",
    ...OF_METAL,
    label: "line structure",
    options: ["hyperfine", "merged"],
    default: "hyperfine",
    sentence: "Lines split into isotopes and hyperfine components, or each merged into one.",
  },
  {
    kind: "choice",
    path: "medium.pressureEquation",
    ...OF_METAL,
    label: "pressure equation",
    options: ["alcock-practical", "alcock-precise", "nesmeyanov", "crc"],
    default: "alcock-practical",
    sentence: "The published equation that gives the vapour pressure over the metal.",
  },
  {
    kind: "quantity",
    path: "medium.gasWidth",
    ...OF_METAL,
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
    ...OF_METAL,
    label: "strengths by hand",
    min: 0,
    max: 10,
    optional: true,
    sentence: "Absorption oscillator strengths entered by hand, by line id, instead of the published ones.",
  },
];
