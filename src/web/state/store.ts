/** The page's one store: the bench with its history, kept in the browser as it changes. */
import { type Accessor, createEffect, createMemo, createSignal, onCleanup } from "solid-js";
import type { Bench, View } from "./bench.ts";
import { amend, beginHistory, type History, push, redo, settle, undo } from "./history.ts";
import { createPace, type Pace } from "./pace.ts";
import { type SetupValue, valueAt, withValue } from "./setup-text.ts";

export interface BenchStore {
  readonly bench: Accessor<Bench>;
  /** what undo and redo would do, undefined where there is nothing */
  readonly undoLabel: Accessor<string | undefined>;
  readonly redoLabel: Accessor<string | undefined>;
  /** Sets fields of the setup as one step; a gesture joins the steps of one drag. */
  set(values: Readonly<Record<string, SetupValue | undefined>>, label: string, gesture?: string): void;
  /** how fast a dragged value is taken up: one step for each picture */
  readonly pace: Pace;
  /** Ends a gesture. */
  settle(): void;
  /** Changes where one looks; not a step of its own. */
  look(view: Partial<View>): void;
  /** Puts another bench in the place of this one, as one step. */
  replace(bench: Bench, label: string): void;
  undo(): void;
  redo(): void;
}

export function createBenchStore(first: Bench, keep: (bench: Bench) => void): BenchStore {
  const [history, setHistory] = createSignal<History<Bench>>(beginHistory(first));
  const bench = createMemo(() => history().present.state);

  // Saved as you go, but not at every step of a drag.
  let timer: ReturnType<typeof setTimeout> | undefined;
  let unsaved: Bench | undefined;
  const saveNow = (): void => {
    clearTimeout(timer);
    if (unsaved !== undefined) keep(unsaved);
    unsaved = undefined;
  };
  createEffect<Bench>((before) => {
    const now = bench();
    if (now === before) return now;
    unsaved = now;
    clearTimeout(timer);
    timer = setTimeout(saveNow, 250);
    return now;
  }, first);
  const leaving = (): void => saveNow();
  addEventListener("pagehide", leaving);
  onCleanup(() => {
    removeEventListener("pagehide", leaving);
    saveNow();
  });

  const pace = createPace();
  return {
    bench,
    pace,
    undoLabel: () => (history().past.length > 0 ? history().present.label : undefined),
    redoLabel: () => history().future[0]?.label,
    set(values, label, gesture) {
      const now = bench();
      let { setup } = now;
      if (Object.entries(values).every(([path, value]) => valueAt(setup, path) === value)) return;
      for (const [path, value] of Object.entries(values)) setup = withValue(setup, path, value);
      setHistory((was) => push(was, { ...now, setup }, label, gesture));
    },
    settle() {
      pace.flush();
      setHistory(settle);
    },
    look: (view) => {
      const now = bench();
      setHistory((was) => amend(was, { ...now, view: { ...now.view, ...view } }));
    },
    replace: (next, label) => setHistory((was) => push(was, next, label)),
    undo: () => setHistory(undo),
    redo: () => setHistory(redo),
  };
}
