/** The place for photographs: drop or choose hot, cold, lamp and dark frames, or take them from the notebook; name the lamp, read. */
import { createSignal, For, Show as When } from "solid-js";
import type { Hand } from "./hand.ts";
import { MarksFile } from "./marks-file.tsx";
import type { Measuring } from "./measuring.ts";
import { fetchPicture, type KeptPicture, listPictures } from "./notebook.ts";
import { type PhotoPlace, PLACES } from "./photographs.ts";
import { RegionField } from "./region-field.tsx";

const WORDS: Readonly<Record<PhotoPlace, { readonly name: string; readonly sentence: string }>> = {
  hot: { name: "hot", sentence: "the photograph to be read" },
  cold: { name: "cold", sentence: "the same, tube cold, nothing moved" },
  lamp: { name: "lamp", sentence: "a line lamp through the plumb slit" },
  dark: { name: "dark", sentence: "light shut off; several are averaged" },
};

export function Wells(props: { readonly measuring: Measuring; readonly hand: Hand }) {
  const { measuring } = props;
  const { photographs } = measuring;
  const [over, setOver] = createSignal<PhotoPlace>();
  const [kept, setKept] = createSignal<readonly KeptPicture[]>();
  const say = (sentence: string | undefined): void =>
    measuring.setTroubles(sentence === undefined ? [] : [sentence]);
  const add = (place: PhotoPlace, files: FileList | null | undefined): void => {
    for (const file of files ?? []) say(photographs.put(place, file));
  };
  const holds = (place: PhotoPlace): string => {
    const darks = photographs.darks();
    if (place === "dark" && darks.length > 1) return `${darks.length} frames, averaged`;
    return photographs.file(place)?.name ?? WORDS[place].sentence;
  };
  const fromNotebook = async (): Promise<void> => {
    try {
      setKept(await listPictures());
    } catch (fault) {
      say(fault instanceof Error ? fault.message : String(fault));
    }
  };
  const take = async (picture: KeptPicture): Promise<void> => {
    try {
      const place = PLACES.find((each) => each === picture.role) ?? "hot";
      const file = await fetchPicture(picture);
      say(picture.role === "film" ? photographs.putAll([file]) : photographs.put(place, file));
    } catch (fault) {
      say(fault instanceof Error ? fault.message : String(fault));
    }
  };
  return (
    <section class="wells" aria-label="Photographs to be measured">
      <div class="well-row">
        <For each={PLACES}>
          {(place) => (
            <div class="well-place">
              <label
                class="well"
                classList={{ filled: photographs.file(place) !== undefined, over: over() === place }}
                onDragOver={(event) => {
                  event.preventDefault();
                  setOver(place);
                }}
                onDragLeave={() => setOver(undefined)}
                onDrop={(event) => {
                  event.preventDefault();
                  event.stopPropagation();
                  setOver(undefined);
                  add(place, event.dataTransfer?.files);
                }}
              >
                <strong>{WORDS[place].name}</strong>
                <span>{holds(place)}</span>
                <input
                  type="file"
                  multiple={place === "dark"}
                  accept=".png,.jpg,.jpeg,.tif,.tiff,.fits,.fit,.fts"
                  aria-label={`${WORDS[place].name} picture: ${WORDS[place].sentence}`}
                  onChange={(event) => add(place, event.currentTarget.files)}
                />
              </label>
              <When when={photographs.file(place)}>
                <button
                  type="button"
                  class="word take-out"
                  aria-label={`take out the ${place} picture`}
                  onClick={(event) => {
                    // The button goes with the picture: its place keeps the focus.
                    event.currentTarget.closest(".well-place")?.querySelector("input")?.focus();
                    say(photographs.put(place, undefined));
                  }}
                >
                  take out
                </button>
              </When>
            </div>
          )}
        </For>
      </div>
      <div class="read-row">
        <label for="lamp-lines">lines of the lamp</label>
        <input
          id="lamp-lines"
          type="text"
          class="long"
          value={measuring.lampLines()}
          placeholder="Ar, Ne or 763.72 nm vacuum"
          onInput={(event) => measuring.setLampLines(event.currentTarget.value)}
        />
        <button
          type="button"
          class="word strong"
          disabled={photographs.file("hot") === undefined || measuring.busy() !== undefined}
          onClick={() => measuring.measure()}
        >
          {measuring.busy() ?? "read it"}
        </button>
        <button
          type="button"
          class="word"
          disabled={measuring.busy() !== undefined}
          onClick={() => measuring.practise()}
        >
          practice pictures of this bench
        </button>
        <button type="button" class="word" onClick={() => void fromNotebook()}>
          from the notebook
        </button>
        <MarksFile measuring={measuring} hand={props.hand} />
        <RegionField measuring={measuring} hand={props.hand} />
      </div>
      <When when={kept()}>
        {(pictures) => (
          <ul class="kept-pictures" aria-label="Pictures in the notebook">
            <For each={pictures()} fallback={<li>No picture is in the notebook yet.</li>}>
              {(picture) => (
                <li>
                  <button type="button" class="word" onClick={() => void take(picture)}>
                    {`${picture.role}: ${picture.name}, ${picture.at.slice(0, 16).replace("T", " ")} UTC`}
                  </button>
                </li>
              )}
            </For>
          </ul>
        )}
      </When>
      <div role="status">
        <For each={measuring.troubles()}>{(sentence) => <p class="fault">{sentence}</p>}</For>
      </div>
    </section>
  );
}
