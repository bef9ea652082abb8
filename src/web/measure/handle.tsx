/** Something on the photograph that the mouse drags and the arrow keys move. */
import { createEffect } from "solid-js";

/** Pixels of the photograph that an arrow key moves a handle: plain, with Shift, with Alt. */
const STEP = { plain: 1, shift: 10, alt: 0.1 } as const;

export interface Place {
  readonly column: number;
  readonly row: number;
}

export function Handle(props: {
  readonly kind: string;
  readonly label: string;
  /** undefined while it is being taken away */
  readonly at: Place | undefined;
  /** its row says nothing: it stands so far down the picture, a CSS length */
  readonly down?: string;
  readonly struck?: boolean;
  /** pixels of the screen for one of the photograph */
  readonly px: number;
  /** where on the photograph the mouse is */
  readonly place: (event: MouseEvent) => Place;
  /** a whole number of pixels at a time */
  readonly whole?: boolean;
  readonly onMove: (to: Place) => void;
  readonly onSettle: () => void;
  readonly onStrike?: () => void;
}) {
  let button!: HTMLButtonElement;
  createEffect(() => {
    if (props.at === undefined) return;
    button.style.left = `${props.at.column * props.px}px`;
    button.style.top = props.down ?? `${props.at.row * props.px}px`;
  });
  const onKey = (event: KeyboardEvent): void => {
    if (props.at === undefined) return;
    const fine = props.whole === true ? STEP.plain : STEP.alt;
    const step = event.altKey ? fine : event.shiftKey ? STEP.shift : STEP.plain;
    const [right, down] = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, -step],
      ArrowDown: [0, step],
    }[event.key] ?? [0, 0];
    if (event.key === "Delete" || event.key === "Backspace") props.onStrike?.();
    else if (right === 0 && down === 0) return;
    else props.onMove({ column: props.at.column + right, row: props.at.row + down });
    event.preventDefault();
  };
  const drag = (event: PointerEvent): void => {
    button.setPointerCapture(event.pointerId);
    // It moves as the mouse does, wherever it was taken hold of.
    const held = props.place(event);
    const from = props.at ?? held;
    const move = (moved: PointerEvent): void => {
      const now = props.place(moved);
      props.onMove({
        column: from.column + now.column - held.column,
        row: from.row + now.row - held.row,
      });
    };
    const end = (): void => {
      button.removeEventListener("pointermove", move);
      button.removeEventListener("pointerup", end);
      button.removeEventListener("pointercancel", end);
      props.onSettle();
    };
    button.addEventListener("pointermove", move);
    button.addEventListener("pointerup", end);
    button.addEventListener("pointercancel", end);
  };
  return (
    <button
      ref={button}
      type="button"
      class={props.kind}
      classList={{ struck: props.struck === true, upright: props.down !== undefined }}
      aria-label={props.label}
      onKeyDown={onKey}
      onBlur={() => props.onSettle()}
      onPointerDown={drag}
    />
  );
}
