import type { Setup } from "./api.ts";
import { metalStage } from "./metal-stage.ts";
import { solutionStage } from "./solution-stage.ts";
import type { ForecastOptions, VapourStage } from "./stages.ts";

/** The first stage of any setup: what is in its vessel, and what the light meets of it. */
export function vapourStage(setup: Setup, options: ForecastOptions = {}): VapourStage {
  const { medium, vessel } = setup;
  return medium.solution !== undefined && vessel.contents?.kind === "prism"
    ? solutionStage(setup, medium, vessel.contents, options)
    : metalStage(setup, options);
}
