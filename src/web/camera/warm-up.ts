/** The predicted warm-up of a tube whose setup says how it is heated. */
import { openSetup } from "../measure/open-frames.ts";
import type { WarmUpAnswer, WarmUpRequest } from "../measure/protocol.ts";
import { vapourSeries, warmUp } from "../../vessel/index.ts";

/** How far ahead, s, and in how many steps. */
const AHEAD = 3 * 3600;
const STEPS = 37;

export function foretellWarmUp(request: WarmUpRequest): WarmUpAnswer {
  const setup = openSetup(request.setup);
  if (setup.shell === undefined) return { time: new Float64Array(0), ...none() };
  const keep = Array.from({ length: STEPS }, (_, i) => ((i + 1) * AHEAD) / STEPS);
  const run = warmUp(setup.shell, { duration: AHEAD, keep });
  const { columnDensity, columnGradient } = vapourSeries(setup.vessel, run, setup.path.beamHeight);
  return { time: Float64Array.from(keep), columnDensity, columnGradient };
}

const none = (): Omit<WarmUpAnswer, "time"> => ({
  columnDensity: new Float64Array(0),
  columnGradient: new Float64Array(0),
});
