/** What the pixel fit may change, with steps, limits and what cold and lamp frames say beforehand. */
import type { ColdLine } from "./cold-line.ts";
import type { LampFrame } from "./lamp-frame.ts";
import type { FitTerm, ParameterName } from "./fit-parameters.ts";

/** Nothing on the bench measures these before the fit does. */
const ASSUMED: ReadonlySet<ParameterName> = new Set(["gradient bow", "offset change"]);

/** How far the vessel's shape of the gradient is believed: alone, and as a share of what it says. Common practice, no source. */
const BOW = 0.02;
const BOW_SHARE = 0.3;

/** Limit of the gradient's change from the middle of the beam to its edge, either way, share. */
export const MOST_CHANGE = 0.6;

export function fitTerms(
  start: Readonly<Record<ParameterName, number>>,
  pair: boolean,
  cold: ColdLine | null,
  lamp: LampFrame | null,
): FitTerm[] {
  const g = start["column gradient"];
  const c = start["column density"];
  const free = (
    name: ParameterName,
    unit: string,
    step: number,
    lower: number,
    upper: number,
    sigma?: number,
  ): FitTerm => ({
    name,
    unit,
    start: start[name],
    step,
    lower,
    upper,
    ...(sigma === undefined ? {} : { prior: { value: start[name], sigma, assumed: ASSUMED.has(name) } }),
  });
  const around = (name: ParameterName, reach: number): [number, number] => [
    start[name] - reach,
    start[name] + reach,
  ];
  const terms = [
    free("column gradient", "m-3", Math.max(Math.abs(g), 1e15) * 1e-4, -1e26, 1e26),
    free("column density", "m-2", c * 1e-4, c / 30, c * 30),
    free("gradient change", "1", 1e-3, -MOST_CHANGE, MOST_CHANGE),
    free(
      "gradient bow",
      "1",
      1e-3,
      ...around("gradient bow", 0.3),
      Math.hypot(BOW, BOW_SHARE * start["gradient bow"]),
    ),
    free("offset change", "px", 1e-2, -20, 20, 0.5),
    free("line 1", "px", 1e-3, ...around("line 1", 12)),
    free("offset", "px", 1e-3, ...around("offset", 60)),
    free("brightness", "1", 1e-4, 0.05, 20),
    free("background", "1", 1e-5, -0.5, 1),
    free("plumb blur", "px", 1e-3, 0.2, 30, lamp ? 0.5 * start["plumb blur"] : undefined),
    free("level blur", "px", 1e-3, 0.2, 30, cold ? Math.max(cold.sigmaUncertainty, 1e-4) : undefined),
    free("level width", "px", 1e-3, 0.3, 300, cold ? Math.max(cold.widthUncertainty, 1e-4) : undefined),
  ];
  if (pair) {
    terms.push(free("line 2", "px", 1e-3, ...around("line 2", 12)));
    terms.push(free("strength ratio", "1", 1e-4, 0.2, 5));
  }
  // Where neither frame tells the camera's roll, slit and spectral lines are square: they turn together.
  if (cold || lamp)
    terms.push(
      free("slope", "px/px", 1e-6, -0.3, 0.3, cold ? Math.max(cold.slopeUncertainty, 1e-7) : undefined),
    );
  else terms.push(free("roll", "rad", 1e-6, -0.3, 0.3));
  if (!cold) {
    // The light's colours come from the hot picture alone then.
    terms.push(free("colour slope", "1", 1e-4, -1.5, 1.5));
    terms.push(free("colour bend", "1", 1e-4, -1.5, 1.5));
  }
  if (cold) terms.push(free("bend", "1/px", 1e-8, -1e-3, 1e-3, Math.max(cold.bendUncertainty, 1e-12)));
  if (lamp) terms.push(free("roll", "rad", 1e-6, -0.3, 0.3, Math.max(lamp.rollUncertainty, 1e-6)));
  if (lamp) terms.push(free("smile", "1/px", 1e-9, -1e-3, 1e-3, Math.max(lamp.smileUncertainty, 1e-9)));
  return terms;
}
