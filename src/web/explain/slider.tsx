/** A labelled slider with its value in words. */
import { createUniqueId } from "solid-js";

export function Slider(props: {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly words: string;
  readonly onMove: (at: number) => void;
}) {
  const id = createUniqueId();
  return (
    <p class="explain-slider">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        class="rule"
        type="range"
        min="0"
        max="1000"
        step="1"
        value={Math.round((1000 * (props.at - props.from)) / (props.to - props.from || 1))}
        aria-valuetext={props.words}
        onInput={(event) =>
          props.onMove(props.from + (Number(event.currentTarget.value) / 1000) * (props.to - props.from))
        }
      />
      <output for={id}>{props.words}</output>
    </p>
  );
}
