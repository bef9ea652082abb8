/**
 * A setup file checked and its heater brought into balance. Everything wrong is found at once; `parseSetup` throws the
 * first fault and says how many more there are, `examineSetup` gives them all.
 */
import { Refusal } from "../quantity/index.ts";
import { type ShellInput, steadyShell, wallReadings } from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import type { JsonObject } from "./json.ts";
import { type Examined, examineFields } from "./parse.ts";

export function parseSetup(document: JsonObject): Setup {
  const { setup, faults } = examineSetup(document);
  if (setup !== undefined) return setup;
  const [first, ...more] = faults;
  if (first === undefined) throw new Error("a setup was refused without a fault");
  if (more.length === 0) throw new Refusal(first);
  const others = more.map((fault) => fault.field).join(", ");
  const hint = first.hint === undefined ? "" : `${first.hint}; `;
  throw new Refusal({ ...first, hint: `${hint}also at fault: ${others}` });
}

export function examineSetup(document: JsonObject): Examined {
  return inBalance(examineFields(document));
}

/** What `examineFields` found, with the wall of a heated tube from its steady state; the same object where nothing heats. */
export function inBalance(examined: Examined): Examined {
  const { setup, faults } = examined;
  if (setup?.shell === undefined) return examined;
  try {
    return { setup: withShell(setup, setup.shell), faults };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { setup: undefined, faults: [error.record] };
  }
}

/** The setup with its wall from this shell's steady state; that of the setup, if it has one, is where the search starts. */
export function withShell(setup: Setup, shell: ShellInput): Setup {
  const steady = steadyShell(shell, setup.steady);
  const { hotStrip } = shell;
  const wall = { kind: "measured" as const, ...wallReadings(steady), hotStrip };
  return { ...setup, vessel: { ...setup.vessel, wall, map: steady }, shell, steady };
}
