/**
 * What can be chosen on the bench: over each thing a radio button with its name, laid on the drawing. A thing is moved along
 * the rail by dragging it, or with Shift and an arrow key; Alt makes the steps fine.
 */
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
/** Way a pointer goes before it drags, px. */
const TREMBLE = 4;
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
      small: row === 0 ? one.small : undefined, // higher up, a neighbour's name stands where it would
      from: Math.min(one.from, middle - HALF_STAND),
      to: Math.max(one.to, middle + HALF_STAND),
      centre,
      top: ROWS[row] ?? 0,
    };
  });
}

/** Moving something along the rail. */
export interface Mover {
  /** px along the drawing since the move began, or whole steps by key */
  readonly move: (
    id: ElementId,
    by: { readonly px: number } | { readonly steps: number },
    fine: boolean,
  ) => void;
  readonly begin: () => void;
  readonly end: () => void;
}

export function Stands(props: {
  readonly stands: readonly LaidStanding[];
  readonly chosen: ElementId;
  readonly onChoose: (id: ElementId) => void;
  readonly mover: Mover;
  /** lower edge of the drawing, px */
  readonly bottom: number;
}) {
  return (
    <fieldset class="stands">
      <legend class="unseen">
        What stands on the bench: choose to open its fields; with Shift the arrow keys move it along the rail
      </legend>
      <Index each={props.stands}>
        {(stand) => (
          <Stand
            stand={stand()}
            chosen={props.chosen === stand().id}
            bottom={props.bottom}
            onChoose={() => props.onChoose(stand().id)}
            mover={props.mover}
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
  readonly mover: Mover;
}) {
  let grip: { readonly x: number; moving: boolean } | undefined;
  const drag = (event: PointerEvent & { readonly currentTarget: HTMLElement }): void => {
    if (grip === undefined) return;
    const px = event.clientX - grip.x;
    if (!grip.moving) {
      // A hand that only chooses trembles.
      if (Math.abs(px) < TREMBLE) return;
      grip.moving = true;
      event.currentTarget.setPointerCapture(event.pointerId);
      if (!props.chosen) props.onChoose();
      props.mover.begin();
    }
    props.mover.move(props.stand.id, { px }, event.altKey);
  };
  const release = (): void => {
    if (grip?.moving === true) props.mover.end();
    grip = undefined;
  };
  const key = (event: KeyboardEvent): void => {
    const way = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (!event.shiftKey || way === 0) return;
    event.preventDefault();
    props.mover.begin();
    props.mover.move(props.stand.id, { steps: way }, event.altKey);
    props.mover.end();
  };
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
    <label
      class="stand"
      classList={{ chosen: props.chosen }}
      ref={place}
      onPointerDown={(event) => {
        if (event.button === 0) grip = { x: event.clientX, moving: false };
      }}
      onPointerMove={drag}
      onPointerUp={release}
      onPointerCancel={release}
    >
      <input
        type="radio"
        name="stand"
        aria-label={props.stand.spoken}
        checked={props.chosen}
        onChange={() => props.onChoose()}
        onKeyDown={key}
      />
      <span class="stand-name" ref={centre}>
        {props.stand.name}
        <When when={props.stand.small}>{(text) => <small>{text()}</small>}</When>
      </span>
    </label>
  );
}
