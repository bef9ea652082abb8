/** Cautions about a dye in its solvent. They defer to the safety data sheets of what is really used. */
import type { SolutionInput } from "../setup/index.ts";
import type { Finding } from "./finding.ts";
import { COMMON } from "./words.ts";

export function solutionCautions({ solution }: SolutionInput): Finding[] {
  const { solvent } = solution;
  const burns = solvent !== "water";
  return [
    ...(burns
      ? [
          {
            code: "flammable-solvent",
            level: "mind" as const,
            sentence:
              solvent === "ethanol"
                ? "Ethanol burns, and its vapour catches fire at room temperature: no flame, no arc and no hot lamp beside the prism, little of it, a lid on it, air the room."
                : "Many solvents burn or harm when breathed: read the safety data sheet of this one before the bottle is opened; until then treat it as if it did both.",
            source: `${COMMON}; the solvent's safety data sheet decides`,
          },
        ]
      : []),
    {
      code: "dye-unknown",
      level: "mind",
      sentence:
        "The program knows the dye by its absorbance only, not what it does to people: its safety data sheet decides on gloves, goggles and waste; some dyes are poisonous or cause cancer.",
      source: `${COMMON}; the dye's safety data sheet decides`,
    },
    {
      code: "liquid-on-bench",
      level: "mind",
      sentence:
        "A cemented prism may leak: a tray under it, lamps and mains apart from it, nothing down the sink that the local rules do not allow there.",
      source: COMMON,
    },
  ];
}
