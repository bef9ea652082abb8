/** Whether air is enough to keep the top as cool as the bend asks for. */
import type { Cooling, ShellInput, ShellState } from "./shell-api.ts";
import { wallReadings } from "./balanced.ts";
import { steadyShell } from "./steady-shell.ts";

export interface CoolingRow {
  readonly cooling: Cooling;
  /** heater power that brings the metal to its temperature with that cooling, W; null where 100 kW do not */
  readonly power: number | null;
  /** top at mid-length then, K; null where the metal does not get there */
  readonly top: number | null;
  /** true where that top is as cool as wanted, or cooler */
  readonly enough: boolean;
}

/** From the gentlest on: air at rest, fins of five times the area, air at 2 m/s and at 6 m/s, and a loop of oil. */
export const COOLING_LADDER: readonly Cooling[] = [
  { kind: "still-air" },
  { kind: "fins", areaFactor: 5 },
  { kind: "blown-air", speed: 2 },
  { kind: "blown-air", speed: 6 },
  { kind: "liquid", coolant: "oil", flow: 0.02, inlet: 298.15, conductance: 100 },
];

const MOST_POWER = 1e5;

/**
 * Top temperature that each cooling gives at the heater power which brings the metal to `bottom`, K, in a shell that is
 * otherwise the one given, and whether it is at most `warmestTop`, K (of `topAdvice`). Power by bisection, the
 * metal's temperature to 0.1 K. Accurate as the balance of heat is: its correlations are good to 10 to 20 %, so a difference of
 * less than a tenth of the metal's rise is no difference.
 */
export function coolingAdvice(
  shell: ShellInput,
  bottom: number,
  warmestTop: number,
  ladder: readonly Cooling[] = COOLING_LADDER,
): readonly CoolingRow[] {
  return ladder.map((cooling) => {
    const found = heatedTo({ ...shell, topCooling: cooling }, bottom);
    const top = found === undefined ? null : wallReadings(found.state).top;
    return { cooling, power: found?.power ?? null, top, enough: top !== null && top <= warmestTop };
  });
}

/** The power at which the metal reaches `bottom`, and the shell then; undefined where MOST_POWER is too little. */
function heatedTo(
  shell: ShellInput,
  bottom: number,
): { readonly power: number; readonly state: ShellState } | undefined {
  let state: ShellState | undefined;
  const excess = (power: number): number => {
    state = steadyShell({ ...shell, power }, state);
    return wallReadings(state).bottom - bottom;
  };
  if (bottom <= shell.room) return undefined;
  let low = 0;
  let high = Math.max(10, shell.power);
  while (excess(high) < 0) {
    low = high;
    high *= 2;
    if (high > MOST_POWER) return undefined;
  }
  let power = high;
  for (let step = 0; step < 60; step++) {
    power = 0.5 * (low + high);
    const over = excess(power);
    if (Math.abs(over) < 0.1 || state === undefined) break;
    if (over < 0) low = power;
    else high = power;
  }
  return state === undefined ? undefined : { power, state };
}
