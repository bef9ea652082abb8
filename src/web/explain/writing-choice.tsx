/** The choice between the browser's way to write numbers and the English one, shown where they differ. */
import { Show as When } from "solid-js";
import { DEFAULT_LOCALE } from "../../words/index.ts";
import { Choice } from "../figure/choice.tsx";
import { useTongue } from "./tongue.ts";
import { exampleOf, WAYS, type WritingState } from "./writing.ts";

export function Writing(props: { readonly writing: WritingState }) {
  const tongue = useTongue();
  const here = () => exampleOf(props.writing.browser);
  const english = exampleOf(DEFAULT_LOCALE);
  return (
    <When when={here() !== english}>
      <Choice
        label={tongue().words.numbers}
        options={WAYS}
        value={props.writing.way()}
        words={{ browser: tongue().words.asBrowser(here()), english: tongue().words.asEnglish(english) }}
        onChoose={(way) => props.writing.choose(way)}
      />
    </When>
  );
}
