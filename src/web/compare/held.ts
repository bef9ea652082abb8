/** The setup that is held for comparing, kept in the browser. */
import { type Bench, benchFrom } from "../state/bench.ts";

const KEY = "crossprism held";

export function keepHeld(storage: Storage | undefined, setup: Bench["setup"]): void {
  storage?.setItem(KEY, JSON.stringify(setup));
}

export function readHeld(storage: Storage | undefined): Bench["setup"] | undefined {
  const text = storage?.getItem(KEY);
  if (text === undefined || text === null) return undefined;
  try {
    return benchFrom(JSON.parse(text))?.setup;
  } catch {
    return undefined;
  }
}
