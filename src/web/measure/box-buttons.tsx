/** Buttons that put areas on a photograph, and those that take steps back: where no mouse is at hand, areas begin here. */
import type { Hand } from "./hand.ts";

export function BoxButtons(props: { readonly hand: Hand }) {
  const region = () => props.hand.marked().boxes.find(({ kind }) => kind === "region");
  return (
    <>
      <button
        type="button"
        class="word"
        onClick={() => {
          props.hand.addBox("struck");
          focusLast(".box-handle");
        }}
      >
        leave out an area
      </button>
      <button
        type="button"
        class="word"
        onClick={() => {
          const now = region();
          if (now === undefined) {
            props.hand.addBox("region");
            focusLast(".box-handle");
          } else props.hand.removeBox(now.id);
        }}
      >
        {region() === undefined ? "look only in a part" : "look everywhere"}
      </button>
    </>
  );
}

export function StepButtons(props: { readonly hand: Hand }) {
  return (
    <>
      <button
        type="button"
        class="word"
        disabled={props.hand.undoLabel() === undefined}
        title={props.hand.undoLabel()}
        aria-keyshortcuts="Control+Z"
        onClick={() => props.hand.undo()}
      >
        take back
      </button>
      <button
        type="button"
        class="word"
        disabled={props.hand.redoLabel() === undefined}
        title={props.hand.redoLabel()}
        aria-keyshortcuts="Control+Shift+Z"
        onClick={() => props.hand.redo()}
      >
        do again
      </button>
    </>
  );
}

/** The newest of a kind is the last; it is there once the page is drawn. */
export function focusLast(selector: string): void {
  requestAnimationFrame(() => {
    const all = document.querySelectorAll<HTMLButtonElement>(selector);
    all[all.length - 1]?.focus();
  });
}
