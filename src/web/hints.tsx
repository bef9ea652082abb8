/** Three short hints for the first use; put away for good with one press. */
import { createSignal, Show as When } from "solid-js";

const KEY = "crossprism hints read";

export function Hints(props: { readonly storage: Storage | undefined }) {
  const [shown, setShown] = createSignal(props.storage?.getItem(KEY) !== "yes");
  return (
    <When when={shown()}>
      <aside class="hints" aria-label="Hints">
        <p>Choose anything on the bench: its fields hang below it.</p>
        <p>Drag the rule beside a number, or type with any unit: the picture follows.</p>
        <p>Move along the picture: a line reads what it meets.</p>
        <button
          type="button"
          class="word"
          onClick={() => {
            setShown(false);
            props.storage?.setItem(KEY, "yes");
          }}
        >
          understood
        </button>
      </aside>
    </When>
  );
}
