/**
 * Undo and redo over one immutable tree. Steps that belong to one gesture (a drag, typing in one field) carry the same
 * `gesture` and are kept as a single step.
 */
export interface Step<T> {
  readonly state: T;
  /** what led to this state, completing "undo: …" */
  readonly label: string;
  readonly gesture: string | undefined;
}

export interface History<T> {
  readonly past: readonly Step<T>[];
  readonly present: Step<T>;
  readonly future: readonly Step<T>[];
}

/** Longest memory of a bench; older steps are forgotten. */
const LIMIT = 200;

export function beginHistory<T>(state: T): History<T> {
  return { past: [], present: { state, label: "opened", gesture: undefined }, future: [] };
}

/** A new step; joins the present one when both carry the same gesture. */
export function push<T>(history: History<T>, state: T, label: string, gesture?: string): History<T> {
  const present = { state, label, gesture };
  if (gesture !== undefined && history.present.gesture === gesture)
    return { ...history, present, future: [] };
  return { past: [...history.past, history.present].slice(-LIMIT), present, future: [] };
}

/** Changes the present state without making a step of it: where one looks is not undone on its own. */
export function amend<T>(history: History<T>, state: T): History<T> {
  return { ...history, present: { ...history.present, state } };
}

/** Closes the present gesture so that the next change starts a step of its own. */
export function settle<T>(history: History<T>): History<T> {
  return { ...history, present: { ...history.present, gesture: undefined } };
}

export function undo<T>(history: History<T>): History<T> {
  const previous = history.past.at(-1);
  if (previous === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: { ...previous, gesture: undefined },
    future: [history.present, ...history.future],
  };
}

export function redo<T>(history: History<T>): History<T> {
  const [next, ...future] = history.future;
  if (next === undefined) return history;
  return { past: [...history.past, history.present], present: { ...next, gesture: undefined }, future };
}
