/** One reading written by hand. */
import { createSignal, Show as When } from "solid-js";
import type { Reading } from "./log.ts";

const EMPTY = { minute: "", bottom: "", top: "", ends: "", note: "" };

export function ReadingForm(props: {
  /** minute that stands now, for a reading without one */
  readonly minute: number;
  readonly onWrite: (reading: Reading) => void;
}) {
  const [text, setText] = createSignal(EMPTY);
  const [fault, setFault] = createSignal<string>();
  const write = (event: SubmitEvent): void => {
    event.preventDefault();
    const { minute, bottom, top, ends, note } = text();
    const numbers = [minute, bottom, top, ends].map(numberOf);
    const wrong = ["minute", "metal", "top", "window"].find((_, i) => numbers[i] === undefined);
    if (wrong !== undefined) return void setFault(`${wrong}: expected a plain number.`);
    const [at, ...places] = numbers as (number | null)[];
    const [b, t, e] = places.map((each) => (each === null ? null : each + 273.15));
    if (b === null && t === null && e === null)
      return void setFault("A reading wants one temperature at least.");
    setFault(undefined);
    props.onWrite({
      time: (at ?? props.minute) * 60,
      bottom: b ?? null,
      top: t ?? null,
      ends: e ?? null,
      note: note.trim(),
    });
    setText(EMPTY);
  };
  const field = (name: keyof typeof EMPTY, label: string, hint = "") => (
    <label class="write">
      <span class="quiet">{label}</span>
      <input
        type="text"
        inputmode={name === "note" ? "text" : "decimal"}
        autocomplete="off"
        placeholder={hint}
        value={text()[name]}
        onInput={(event) => setText((was) => ({ ...was, [name]: event.currentTarget.value }))}
      />
    </label>
  );
  return (
    <form class="reading" onSubmit={write}>
      {field("minute", "minute", "now")}
      {field("bottom", "metal, °C")}
      {field("top", "top, °C")}
      {field("ends", "window, °C")}
      {field("note", "note")}
      <button type="submit" class="word strong">
        write it down
      </button>
      <When when={fault()}>
        {(sentence) => (
          <p class="fault" role="alert">
            {sentence()}
          </p>
        )}
      </When>
    </form>
  );
}

/** null where nothing stands, undefined where no number stands. */
function numberOf(text: string): number | null | undefined {
  const plain = text.trim().replace(",", ".");
  if (plain === "") return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : undefined;
}
