/** What can be done with the marks: added, taken back, kept in a file, and the photograph read with them. */
import { For, Show as When } from "solid-js";
import { BoxButtons, focusLast, StepButtons } from "./box-buttons.tsx";
import type { Hand } from "./hand.ts";
import type { Measuring } from "./measuring.ts";
import { saveFile } from "./save-file.ts";

export function HandTools(props: { readonly hand: Hand; readonly measuring: Measuring }) {
  const { hand, measuring } = props;
  const size = () => measuring.answer()?.views.hot ?? { columns: 0, rows: 0 };
  const kept = () => {
    const photo = measuring.read()?.photo;
    return photo === undefined ? undefined : hand.documentOf(photo);
  };
  return (
    <>
      <div class="read-row">
        <button
          type="button"
          class="word"
          onClick={() => {
            hand.add(size().columns / 2, size().rows * 0.2);
            // It takes the focus, to be moved by keys at once.
            focusLast(".hand-mark");
          }}
        >
          add a mark
        </button>
        <BoxButtons hand={hand} />
        <button type="button" class="word" onClick={() => hand.toggleScale()}>
          {hand.marked().scale.length === 0 ? "two marks of the scale" : "no marks of the scale"}
        </button>
      </div>
      <For each={hand.marked().scale.map(({ id }) => id)}>
        {(id, k) => (
          <div class="read-row">
            <label for={`scale-mark-${k() + 1}`}>{`mark ${k() + 1} of the scale stands at`}</label>
            <input
              id={`scale-mark-${k() + 1}`}
              type="text"
              value={hand.marked().scale.find((mark) => mark.id === id)?.wavelength ?? ""}
              placeholder="766.7009 nm vacuum"
              onChange={(event) => hand.setScale(id, { wavelength: event.currentTarget.value })}
            />
          </div>
        )}
      </For>
      <div class="read-row">
        <StepButtons hand={hand} />
        <button type="button" class="word" onClick={() => hand.reset()}>
          marks as found
        </button>
        <button
          type="button"
          class="word"
          disabled={kept() === undefined}
          onClick={() => {
            const [photo, document] = [measuring.read()?.photo, kept()];
            if (photo === undefined || document === undefined) return;
            const text = `${JSON.stringify(document, null, 2)}\n`;
            saveFile(
              new Blob([text], { type: "application/json" }),
              `${photo.name.replace(/\.\w+$/, "")}-marks.json`,
            );
          }}
        >
          save the marks
        </button>
      </div>
      <When when={measuring.marksChanged()}>
        <p class="quiet" role="status">
          The numbers of the fit are those from before these marks.{" "}
          <button
            type="button"
            class="word strong"
            disabled={measuring.busy() !== undefined}
            onClick={() => measuring.measure()}
          >
            {measuring.busy() ?? "read again with these marks"}
          </button>
        </p>
      </When>
    </>
  );
}
