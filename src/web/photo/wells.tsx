/** The place for photographs: drop or choose hot, cold and lamp frames, name the lamp, read. */
import { createSignal, For, Show as When } from "solid-js";
import type { Outcome, PhotoReading } from "../worker/protocol.ts";
import { type PhotoPlace, type Photographs, PLACES } from "./photographs.ts";

const WORDS: Readonly<Record<PhotoPlace, { readonly name: string; readonly sentence: string }>> = {
  hot: { name: "hot", sentence: "the photograph to be read" },
  cold: { name: "cold", sentence: "the same, tube cold, nothing moved" },
  lamp: { name: "lamp", sentence: "a line lamp through the plumb slit" },
};

export interface WellsProps {
  readonly photographs: Photographs;
  readonly lampLines: string;
  readonly onLampLines: (text: string) => void;
  readonly busy: boolean;
  readonly outcome: Outcome<PhotoReading> | undefined;
  readonly onRead: () => void;
  readonly onRefuse: (sentence: string | undefined) => void;
  readonly refused: string | undefined;
}

export function Wells(props: WellsProps) {
  const [over, setOver] = createSignal<PhotoPlace>();
  return (
    <section class="wells" aria-label="Read a photograph">
      <h2>Read a photograph</h2>
      <p class="quiet">
        Drop pictures here or on the plate, PNG or JPEG. They stay in this browser. The setup above says what
        made them.
      </p>
      <div class="well-row">
        <For each={PLACES}>
          {(place) => (
            <label
              class="well"
              classList={{ filled: props.photographs.file(place) !== undefined, over: over() === place }}
              onDragOver={(event) => {
                event.preventDefault();
                setOver(place);
              }}
              onDragLeave={() => setOver(undefined)}
              onDrop={(event) => {
                event.preventDefault();
                event.stopPropagation();
                setOver(undefined);
                props.onRefuse(props.photographs.put(place, event.dataTransfer?.files[0]));
              }}
            >
              <strong>{WORDS[place].name}</strong>
              <span>{props.photographs.file(place)?.name ?? WORDS[place].sentence}</span>
              <input
                type="file"
                accept="image/png,image/jpeg"
                aria-label={`${WORDS[place].name} picture: ${WORDS[place].sentence}`}
                onChange={(event) =>
                  props.onRefuse(props.photographs.put(place, event.currentTarget.files?.[0]))
                }
              />
            </label>
          )}
        </For>
      </div>
      <div class="read-row">
        <label for="lamp-lines">lines of the lamp</label>
        <input
          id="lamp-lines"
          type="text"
          value={props.lampLines}
          placeholder="Ar, Ne or 763.72 nm vacuum"
          onInput={(event) => props.onLampLines(event.currentTarget.value)}
        />
        <button
          type="button"
          class="word strong"
          disabled={props.photographs.file("hot") === undefined || props.busy}
          onClick={() => props.onRead()}
        >
          {props.busy ? "reading…" : "read it"}
        </button>
      </div>
      <div role="status">
        <When when={props.refused}>{(sentence) => <p class="fault">{sentence()}</p>}</When>
        <When when={props.outcome?.outcome === "refused" && props.outcome}>
          {(outcome) => <For each={outcome().sentences}>{(sentence) => <p class="fault">{sentence}</p>}</For>}
        </When>
        <When when={props.outcome?.outcome === "failed" && props.outcome}>
          {(outcome) => <p class="fault">{outcome().sentence}</p>}
        </When>
      </div>
    </section>
  );
}
