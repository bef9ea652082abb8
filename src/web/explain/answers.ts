/** What the explaining views need beyond the forecast, from the open setup. Pure. */
import { travelPulse, vapourComponents, vapourMedium } from "../../medium/index.ts";
import { type JsonObject, parseSetup, stateOf, vapourStage } from "../../setup/index.ts";
import { COARSE_GRID } from "../../vessel/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import type { Facts, LineFacts, Pulse } from "./protocol.ts";

/** @throws Refusal naming the field where the setup is at fault */
export function factsOf(text: SetupText): Facts {
  const stage = vapourStage(parseSetup(text as JsonObject), { grid: COARSE_GRID });
  const state = stateOf(stage, "this view");
  const lines = new Map<string, LineFacts & { sum: number; weight: number }>();
  for (const part of vapourComponents(state)) {
    const line = lines.get(part.line) ?? {
      id: part.line,
      wavelength: 0,
      strength: part.oscillatorStrength,
      width: part.lorentzWidth,
      sum: 0,
      weight: 0,
    };
    line.sum += part.weight * part.wavelength;
    line.weight += part.weight;
    lines.set(part.line, line);
  }
  const listed = [...lines.values()]
    .map(({ id, strength, width, sum, weight }) => ({ id, strength, width, wavelength: sum / weight }))
    .sort((a, b) => a.wavelength - b.wavelength);
  return {
    lines: listed,
    sum: listed.reduce((all, { strength }) => all + strength, 0),
    density: state.density,
  };
}

/** Times that a figure can show, and depths of the vapour at which the pulse is known. */
const SHOWN = 1200;
const DEPTHS = 24;

/** A pulse with a sharp front carried through the heated length; the part of its time in which anything happens. */
export function pulseOf(text: SetupText, carrier: number, duration: number): Pulse {
  const setup = parseSetup(text as JsonObject);
  const state = stateOf(vapourStage(setup, { grid: COARSE_GRID }), "this view");
  const length = setup.vessel.heatedLength;
  const input = { medium: vapourMedium(state), length, carrier, shape: "cut-gauss", duration } as const;
  const { report, steps, time, intensity } = travelPulse(
    input,
    DEPTHS,
    -0.6 * duration,
    4.5 * duration,
    SHOWN,
  );
  const { aheadOfFront, statements, groupDelay, energy, before, after } = report;
  return {
    travel: { length, steps, time, intensity },
    aheadOfFront,
    statements,
    groupDelay,
    energy,
    delay: after.centre - before.centre,
  };
}
