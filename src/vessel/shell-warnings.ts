/** What a shell has to say about its own temperatures. */

import { coolant, tubeMaterial } from "./materials.ts";
import type { Cooling, ShellInput, ShellState } from "./shell-api.ts";
import type { VesselWarning } from "./warning-api.ts";

/** The state with what is amiss with it; itself where nothing is. */
export function withWarnings(input: ShellInput, state: ShellState): ShellState {
  const warnings = shellWarnings(input, state);
  return warnings.length === 0 ? state : { ...state, warnings };
}

/** A wall hotter than its material bears, a coolant that boils. */
function shellWarnings(input: ShellInput, { temperature, balance }: ShellState): readonly VesselWarning[] {
  const warnings: VesselWarning[] = [];
  const material = tubeMaterial(input.material);
  const hottest = temperature.reduce((a, b) => Math.max(a, b), 0);
  if (hottest > 0.8 * material.melting) {
    warnings.push({
      code: "wall-too-hot",
      level: hottest > material.melting ? "stop" : "mind",
      sentence: `The hottest wall is ${Math.round(hottest)} K; ${material.name} fails at ${material.melting} K and softens well before.`,
      value: hottest / material.melting,
      threshold: 0.8,
      source: `${material.source} (${material.origin}); eight tenths of it: common practice`,
      remedy: { text: "take less power, or a tube that bears more" },
    });
  }
  const liquids: readonly (readonly [string, Cooling, number | null])[] = [
    ["top", input.topCooling, balance.topOutlet],
    ["ends", input.endCooling, balance.endOutlet],
  ];
  for (const [part, cooling, outlet] of liquids) {
    if (cooling.kind !== "liquid" || outlet === null) continue;
    const liquid = coolant(cooling.coolant);
    if (outlet < liquid.boiling) continue;
    warnings.push({
      code: "coolant-boils",
      level: "stop",
      sentence: `The ${liquid.name} on the ${part} would leave at ${Math.round(outlet)} K, above its boiling point of ${liquid.boiling} K at one atmosphere: steam may burst the loop.`,
      value: outlet / liquid.boiling,
      threshold: 1,
      source: `${liquid.source} (${liquid.origin})`,
      remedy: { text: "give the loop more flow, or take less power" },
    });
  }
  return warnings;
}
