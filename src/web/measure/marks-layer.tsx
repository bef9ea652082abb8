/** The marks over the photograph: each a button that the mouse drags and the arrow keys move. */
import { createEffect, For, onCleanup } from "solid-js";
import { formatMark } from "./mark-words.ts";
import type { Hand, Mark } from "./hand.ts";

/** Pixels of the photograph that an arrow key moves a mark: plain, with Shift, with Alt. */
const STEP = { plain: 1, shift: 10, alt: 0.1 } as const;

export function MarksLayer(props: {
  readonly hand: Hand;
  /** pixels of the screen for one of the photograph */
  readonly px: number;
  readonly rows: number;
}) {
  let layer!: HTMLDivElement;
  const place = (event: MouseEvent): { column: number; row: number } => {
    const bounds = layer.getBoundingClientRect();
    return {
      column: (event.clientX - bounds.left) / props.px,
      row: (event.clientY - bounds.top) / props.px,
    };
  };
  const ids = () => props.hand.marks().map(({ id }) => id);
  return (
    <div
      class="marks-layer"
      ref={(element) => {
        layer = element;
        element.addEventListener("dblclick", (event) => {
          if (event.target !== element) return;
          const { column, row } = place(event);
          props.hand.add(column, row);
        });
      }}
    >
      <For each={ids()}>
        {(id, at) => {
          const mark = (): Mark | undefined => props.hand.marks().find((each) => each.id === id);
          return <MarkButton id={id} at={at()} mark={mark} place={place} {...props} />;
        }}
      </For>
    </div>
  );
}

function MarkButton(props: {
  readonly id: number;
  readonly at: number;
  readonly mark: () => Mark | undefined;
  readonly hand: Hand;
  readonly px: number;
  readonly rows: number;
  readonly place: (event: MouseEvent) => { column: number; row: number };
}) {
  let button!: HTMLButtonElement;
  const isLine = () => props.mark()?.line !== undefined;
  createEffect(() => {
    const mark = props.mark();
    if (mark === undefined) return;
    button.style.left = `${mark.column * props.px}px`;
    button.style.top = mark.line === undefined ? `${mark.row * props.px}px` : "93%";
  });
  const onKey = (event: KeyboardEvent): void => {
    const mark = props.mark();
    if (mark === undefined) return;
    const step = event.altKey ? STEP.alt : event.shiftKey ? STEP.shift : STEP.plain;
    const [right, down] = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, -step],
      ArrowDown: [0, step],
    }[event.key] ?? [0, 0];
    if (event.key === "Delete" || event.key === "Backspace") props.hand.strike(props.id);
    else if (right === 0 && down === 0) return;
    else props.hand.move(props.id, mark.column + right, mark.row + down);
    event.preventDefault();
  };
  const drag = (event: PointerEvent): void => {
    button.setPointerCapture(event.pointerId);
    const move = (moved: PointerEvent): void => {
      const { column, row } = props.place(moved);
      props.hand.move(props.id, column, row);
    };
    const end = (): void => {
      button.removeEventListener("pointermove", move);
      button.removeEventListener("pointerup", end);
      button.removeEventListener("pointercancel", end);
    };
    button.addEventListener("pointermove", move);
    button.addEventListener("pointerup", end);
    button.addEventListener("pointercancel", end);
    onCleanup(end);
  };
  return (
    <button
      ref={button}
      type="button"
      class="hand-mark"
      classList={{ struck: props.mark()?.struck === true, upright: isLine() }}
      aria-label={formatMark(props.mark(), props.at)}
      onKeyDown={onKey}
      onPointerDown={drag}
    />
  );
}
