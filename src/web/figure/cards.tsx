/** Each number over the small figure that explains it; one press enlarges it. */
import { createMemo, createSignal, For, Show as When } from "solid-js";
import { Text } from "../words/text.tsx";
import { linesAt } from "../words/reading-at.ts";
import { type FigureId, cardsOf } from "./figures.tsx";
import type { FigureProps } from "./props.ts";
import { nearestIndex } from "./scale.ts";

export function Cards(props: Omit<FigureProps, "large">) {
  const [open, setOpen] = createSignal<FigureId>();
  let dialog!: HTMLDialogElement;
  const ids = ["bends", "gaps", "section", "velocity"] as const;
  const cards = createMemo(() => cardsOf(props.sight));
  const card = (id: FigureId) => cards().find((one) => one.id === id)!;
  const reading = () => {
    const { cursor, wavelengths } = props.view;
    if (cursor === null) return [];
    return linesAt(props.sight.curve, nearestIndex(props.sight.curve.wavelength, cursor), wavelengths);
  };
  return (
    <section class="cards" aria-label="Numbers, each over its figure">
      <For each={ids}>
        {(id) => (
          <div class="card">
            <p class="card-label">{card(id).label}</p>
            <p class="card-value">
              <Text of={card(id).value} />
            </p>
            {card(id).figure({
              get sight() {
                return props.sight;
              },
              get view() {
                return props.view;
              },
              get theme() {
                return props.theme;
              },
              onCursor: props.onCursor,
              large: false,
            })}
            <button
              type="button"
              class="enlarge"
              onClick={() => {
                setOpen(id);
                dialog.showModal();
              }}
            >
              enlarge<span class="unseen"> the figure under {card(id).label}</span>
            </button>
          </div>
        )}
      </For>
      <dialog
        ref={dialog}
        class="large-figure"
        aria-label="Figure, enlarged"
        onClose={() => setOpen(undefined)}
      >
        <When when={open()} keyed>
          {(id) => (
            <>
              <header>
                <h2>
                  {card(id).label}: <Text of={card(id).value} />
                </h2>
                <button type="button" class="word" onClick={() => dialog.close()}>
                  close
                </button>
              </header>
              {card(id).figure({
                get sight() {
                  return props.sight;
                },
                get view() {
                  return props.view;
                },
                get theme() {
                  return props.theme;
                },
                onCursor: props.onCursor,
                large: true,
              })}
              <When when={id !== "section"}>
                <div class="large-reading">
                  <For
                    each={
                      reading().length > 0
                        ? reading()
                        : ["Move along the figure, or use the arrow keys: the line reads here."]
                    }
                  >
                    {(line) => (
                      <p>
                        <Text of={line} />
                      </p>
                    )}
                  </For>
                </div>
              </When>
            </>
          )}
        </When>
      </dialog>
    </section>
  );
}
