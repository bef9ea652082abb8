/**
 * The sight that belongs to the bench: coarse as it changes, exact as soon as it rests. Two workers, so that the exact
 * answer never stands in the way of the next coarse one.
 */
import { type Accessor, createEffect, createMemo, createSignal, on, onCleanup } from "solid-js";
import { newestWins, type Newest, type Post } from "../worker/client.ts";
import type { ForeseeRequest, Outcome, Sight } from "../worker/protocol.ts";
import type { Bench } from "./bench.ts";

export interface Sights {
  /** the last good sight; undefined until the first */
  readonly sight: Accessor<Sight | undefined>;
  /** the same a few times a second: for drawing, figures and words, which nobody reads while they run; the picture alone follows every step */
  readonly calm: Accessor<Sight | undefined>;
  /** findings and cautions of the last exact sight */
  readonly said: Accessor<Sight["said"]>;
  /** what is wrong with the bench as it stands; undefined while nothing is */
  readonly trouble: Accessor<Exclude<Outcome<Sight>, { outcome: "done" }> | undefined>;
  /** false while the shown sight is older or coarser than the bench */
  readonly settled: Accessor<boolean>;
}

/** Rest after which the exact answer is asked for, ms. */
const REST = 90;

/** Shortest time between two calm sights, ms. */
const CALM = 250;

export function createSights(bench: Accessor<Bench>, red: Accessor<boolean>, start: () => Post): Sights {
  const [sight, setSight] = createSignal<Sight>();
  const [calm, setCalm] = createSignal<Sight>();
  let calmedAt = Number.NEGATIVE_INFINITY;
  const [said, setSaid] = createSignal<Sight["said"]>();
  const [trouble, setTrouble] = createSignal<Exclude<Outcome<Sight>, { outcome: "done" }>>();
  const [settled, setSettled] = createSignal(false);
  const coarse: Newest<ForeseeRequest> = newestWins(start);
  const exact: Newest<ForeseeRequest> = newestWins(start);
  let revision = 0;
  let rest: ReturnType<typeof setTimeout> | undefined;

  const take = (outcome: Outcome<Sight>): void => {
    if (outcome.outcome === "done") {
      setTrouble(undefined);
      setSight(outcome.answer);
      const now = performance.now();
      if (outcome.answer.precision === "exact" || now - calmedAt > CALM) {
        calmedAt = now;
        setCalm(outcome.answer);
      }
      if (outcome.answer.said !== undefined) setSaid(outcome.answer.said);
    } else {
      setTrouble(outcome);
    }
  };

  // Memos, so that looking around (the line in the picture, the chosen element) asks for nothing new.
  const setup = createMemo(() => bench().setup);
  const show = createMemo(() => bench().view.show);
  createEffect(
    on([setup, show, red], ([newSetup, newShow, inRed]) => {
      revision += 1;
      const asked = revision;
      setSettled(false);
      const request = { task: "foresee", setup: newSetup, show: newShow, red: inRed } as const;
      exact.forget();
      clearTimeout(rest);
      const askExact = (): void =>
        exact.ask({ ...request, precision: "exact" }, (outcome) => {
          if (asked !== revision) return;
          take(outcome);
          setSettled(true);
        });
      coarse.ask({ ...request, precision: "coarse" }, (outcome) => {
        // An older coarse answer is still newer than what is shown, unless the exact one has come.
        if (!settled()) take(outcome);
      });
      // Nothing is shown yet: both begin at once, each in its own worker.
      if (asked === 1) askExact();
      else rest = setTimeout(askExact, REST);
    }),
  );
  onCleanup(() => {
    clearTimeout(rest);
    coarse.close();
    exact.close();
  });
  return { sight, calm, said, trouble, settled };
}
