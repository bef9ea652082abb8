/**
 * The sight that belongs to the bench: coarse as it changes, exact as soon as it rests. Two workers, so that the exact
 * answer never stands in the way of the next coarse one.
 */
import { type Accessor, batch, createEffect, createMemo, createSignal, on, onCleanup } from "solid-js";
import { newestWins, type Newest, type Post } from "../worker/client.ts";
import type { ForeseeRequest, Foreseen, Outcome, Sight, SightPicture } from "../worker/protocol.ts";
import type { Bench, View } from "./bench.ts";
import type { Pace } from "./pace.ts";

export interface Sights {
  /** the last good picture; undefined until the first. While a rule is dragged it follows every step */
  readonly picture: Accessor<SightPicture | undefined>;
  /** what belongs to it, a few times a second while a rule is dragged: nobody reads numbers that run */
  readonly sight: Accessor<Sight | undefined>;
  /** findings and cautions of the last exact sight */
  readonly said: Accessor<Sight["said"]>;
  /** what is wrong with the bench as it stands; undefined while nothing is */
  readonly trouble: Accessor<Exclude<Outcome<Foreseen>, { outcome: "done" }> | undefined>;
  /** false while the shown sight is older or coarser than the bench */
  readonly settled: Accessor<boolean>;
  /** gives the coarse pictures a canvas to be drawn on */
  drawOn(canvas: OffscreenCanvas): void;
}

/** Rest after which the exact answer is asked for, ms. */
const REST = 90;

/** Shortest time between two sights while a rule is dragged, ms. */
const CALM = 200;

export function createSights(
  bench: Accessor<Bench>,
  red: Accessor<boolean>,
  start: () => Post,
  pace: Pace,
): Sights {
  const [picture, setPicture] = createSignal<SightPicture>();
  const [sight, setSight] = createSignal<Sight>();
  let sightAt = Number.NEGATIVE_INFINITY;
  const [said, setSaid] = createSignal<Sight["said"]>();
  const [trouble, setTrouble] = createSignal<Exclude<Outcome<Foreseen>, { outcome: "done" }>>();
  const [settled, setSettled] = createSignal(false);
  const exact: Newest<ForeseeRequest> = newestWins(start);
  // The first picture first: the exact one's worker loads its program while the coarse one computes.
  const coarse: Newest<ForeseeRequest> = newestWins(start, () => exact.prepare());
  let revision = 0;
  let rest: ReturnType<typeof setTimeout> | undefined;

  const take = (outcome: Outcome<Foreseen>): void => {
    if (outcome.outcome !== "done") {
      setTrouble(outcome);
      return;
    }
    const { answer } = outcome;
    batch(() => {
      setTrouble(undefined);
      setPicture(answer.picture);
      if (answer.sight === undefined) return;
      sightAt = performance.now();
      setSight(answer.sight);
      if (answer.sight.said !== undefined) setSaid(answer.sight.said);
    });
  };

  // Memos, so that looking around (the line in the picture, the chosen element) asks for nothing new.
  const setup = createMemo(() => bench().setup);
  const shown = createMemo(() => shownOf(bench().view), undefined, { equals: alike });
  createEffect(
    on([setup, shown, red], ([newSetup, newShown, inRed]) => {
      revision += 1;
      const asked = revision;
      setSettled(false);
      const request = { task: "foresee", setup: newSetup, ...newShown, red: inRed } as const;
      exact.forget();
      clearTimeout(rest);
      const askExact = (): void =>
        exact.ask({ ...request, precision: "exact", wanted: "all" }, (outcome) => {
          if (asked !== revision) return;
          take(outcome);
          setSettled(true);
        });
      pace.begun();
      const wanted = performance.now() - sightAt > CALM ? "all" : "picture";
      coarse.ask({ ...request, precision: "coarse", wanted }, (outcome) => {
        // An older coarse answer is still newer than what is shown, unless the exact one has come.
        if (!settled()) take(outcome);
        pace.done();
        if (asked === 1 && revision === 1) askExact();
      });
      // Nothing is shown yet: the first exact answer may not delay the first coarse one.
      if (asked > 1) rest = setTimeout(askExact, REST);
    }),
  );
  onCleanup(() => {
    clearTimeout(rest);
    coarse.close();
    exact.close();
  });
  return {
    picture,
    sight,
    said,
    trouble,
    settled,
    drawOn: (canvas) => coarse.hand(canvas),
  };
}

type Shown = Pick<View, "show" | "colours" | "tints" | "minute">;

/** What of the view changes the picture. */
export function shownOf({ show, colours, tints, minute }: View): Shown {
  return { show, colours, tints, minute };
}

function alike(a: Shown, b: Shown): boolean {
  return a.show === b.show && a.colours === b.colours && a.tints === b.tints && a.minute === b.minute;
}
