/** What can be chosen on the bench: over each thing a radio button with its name, laid on the drawing. */
import { createEffect, Index, Show as When } from "solid-js";
import type { ElementId } from "../state/bench.ts";

export interface Standing {
  readonly id: ElementId;
  /** stretch of the drawing it takes, px */
  readonly from: number;
  readonly to: number;
  readonly name: string;
  /** name where the written one is not enough */
  readonly spoken: string;
  /** its setting in small type */
  readonly small: string | undefined;
}

export interface LaidStanding extends Standing {
  /** middle of the name, px from the drawing's left edge */
  readonly centre: number;
  /** top of the name, px from the drawing's top */
  readonly top: number;
}

const LETTER = 6.9;
/** Tops of the rows in which names stand, nearest to the drawing first; the third is needed on narrow pages only. */
const ROWS = [15, 0, -15] as const;
/** Half the width of the smallest thing that can be chosen, px. */
const HALF_STAND = 14;

/** Lays names in rows so that neighbours do not run into each other. Pure. */
export function layStands(standing: readonly Standing[], width: number): readonly LaidStanding[] {
  const ends = ROWS.map(() => Number.NEGATIVE_INFINITY);
  return standing.map((one) => {
    const middle = (one.from + one.to) / 2;
    const half = (one.name.length * LETTER) / 2 + 4;
    const centre = Math.min(width - half, Math.max(half, middle));
    const free = ends.findIndex((end) => centre - half > end);
    const row = free < 0 ? ROWS.length - 1 : free;
    ends[row] = centre + half;
    return {
      ...one,
      from: Math.min(one.from, middle - HALF_STAND),
      to: Math.max(one.to, middle + HALF_STAND),
      centre,
      top: ROWS[row] ?? 0,
    };
  });
}

export function Stands(props: {
  readonly stands: readonly LaidStanding[];
  readonly chosen: ElementId;
  readonly onChoose: (id: ElementId) => void;
  /** lower edge of the drawing, px */
  readonly bottom: number;
}) {
  return (
    <fieldset class="stands">
      <legend class="unseen">What stands on the bench: choose to open its fields</legend>
      <Index each={props.stands}>
        {(stand) => (
          <Stand
            stand={stand()}
            chosen={props.chosen === stand().id}
            bottom={props.bottom}
            onChoose={() => props.onChoose(stand().id)}
          />
        )}
      </Index>
    </fieldset>
  );
}

function Stand(props: {
  readonly stand: LaidStanding;
  readonly chosen: boolean;
  readonly bottom: number;
  readonly onChoose: () => void;
}) {
  const place = (element: HTMLElement): void => {
    createEffect(() => {
      const { from, to, top } = props.stand;
      element.style.left = `${from}px`;
      element.style.width = `${to - from}px`;
      element.style.top = `${top}px`;
      element.style.height = `${props.bottom - top}px`;
    });
  };
  const centre = (element: HTMLElement): void => {
    createEffect(() => {
      element.style.left = `${props.stand.centre - props.stand.from}px`;
    });
  };
  return (
    <label class="stand" classList={{ chosen: props.chosen }} ref={place}>
      <input
        type="radio"
        name="stand"
        aria-label={props.stand.spoken}
        checked={props.chosen}
        onChange={() => props.onChoose()}
      />
      <span class="stand-name" ref={centre}>
        {props.stand.name}
        <When when={props.stand.small}>{(text) => <small>{text()}</small>}</When>
      </span>
    </label>
  );
}
