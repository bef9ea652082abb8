/** A heater's balance and, computed once and kept, its shell at a minute of the warm-up; a chunk of its own. */
import { type ShellInput, type ShellState, warmUp } from "../../vessel/index.ts";
import { LAST_MINUTE } from "./minutes.ts";

export { inBalance } from "../../setup/index.ts";

/** Minutes between those computed. */
const EVERY = 2;

let kept: { readonly key: string; readonly shells: readonly ShellState[] } | undefined;

/** @param minute after the heater is switched on with everything at the room's temperature; the nearest computed one is given */
export function shellAt(input: ShellInput, minute: number): ShellState {
  const key = JSON.stringify(input);
  if (kept?.key !== key) {
    const keep = Array.from({ length: LAST_MINUTE / EVERY + 1 }, (_, i) => i * EVERY * 60);
    kept = { key, shells: warmUp(input, { duration: LAST_MINUTE * 60, keep }).kept };
  }
  const { shells } = kept;
  return shells[Math.min(shells.length - 1, Math.max(0, Math.round(minute / EVERY)))];
}
