/** A file of marks opened for the hot picture, be it read already or not. */
import type { Hand } from "./hand.ts";
import type { Measuring } from "./measuring.ts";

export function MarksFile(props: { readonly measuring: Measuring; readonly hand: Hand }) {
  const { photographs } = props.measuring;
  const words = (): string => {
    const photo = photographs.file("hot");
    const marked = photo !== undefined && props.hand.documentOf(photo) !== undefined;
    return marked ? "other marks" : "marks of a file";
  };
  return (
    <label class="file-choice">
      <span class="word">{words()}</span>
      <input
        type="file"
        class="unseen"
        accept=".json"
        disabled={photographs.file("hot") === undefined}
        aria-label="file of marks set by hand, for the hot picture"
        onChange={(event) => {
          const { currentTarget } = event;
          const [file] = currentTarget.files ?? [];
          const photo = photographs.file("hot");
          props.measuring.setTroubles([]);
          if (file !== undefined && photo !== undefined)
            props.hand.open(file, photo, (sentences) => props.measuring.setTroubles(sentences));
          // The same file again, after a change, is a new choice.
          currentTarget.value = "";
        }}
      />
    </label>
  );
}
