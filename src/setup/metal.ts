/** What needs a metal's vapour, and what does without. */
import { Refusal } from "../quantity/index.ts";
import type { VapourState } from "../medium/index.ts";
import { type Line, linesOf } from "../reference/index.ts";
import type { MetalInput, Setup } from "./api.ts";
import type { VapourStage } from "./stages.ts";

/** The setup's metal. Refuses a prism with dye. @param asks what needs the metal, to begin a sentence: "a reading" */
export function metalOf(setup: Setup, asks: string): MetalInput {
  const { medium } = setup;
  if (medium.solution === undefined) return medium;
  throw needsMetal(asks);
}

/** The vapour on the beam. Refuses a prism with dye. @param asks as for `metalOf` */
export function stateOf(stage: VapourStage, asks: string): VapourState {
  if (stage.solution === undefined) return stage.state;
  throw needsMetal(asks);
}

function needsMetal(asks: string): Refusal {
  return new Refusal({
    code: "needs-a-metal",
    field: "vessel.kind",
    received: "a prism filled with dye",
    expected: `a tube, cell or flame: ${asks} goes by the lines of a metal's vapour`,
  });
}

/** Published lines of what is in the vessel; a dye has bands, not lines. */
export function linesIn({ medium }: Setup): readonly Line[] {
  return medium.solution === undefined ? linesOf(medium.element) : [];
}
