/** A few words of which one holds: native radio buttons set as words. */
import { createUniqueId, For } from "solid-js";

export function Choice<T extends string>(props: {
  readonly label: string;
  readonly options: readonly T[];
  readonly value: T;
  readonly onChoose: (value: T) => void;
  readonly words?: Readonly<Partial<Record<T, string>>>;
}) {
  const name = createUniqueId();
  return (
    <fieldset class="choice">
      <legend class="unseen">{props.label}</legend>
      <For each={props.options}>
        {(option) => (
          <label>
            <input
              type="radio"
              name={name}
              value={option}
              checked={props.value === option}
              onChange={() => props.onChoose(option)}
            />
            <span>{props.words?.[option] ?? option}</span>
          </label>
        )}
      </For>
    </fieldset>
  );
}
