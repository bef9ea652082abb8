/** The shell of a heated tube at a minute of its warm-up, computed once for a heater and kept. */
import { type ShellInput, type ShellState, warmUp } from "../../vessel/index.ts";

/** Minutes that can be shown, and how far apart they are computed. */
export const LAST_MINUTE = 120;
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
