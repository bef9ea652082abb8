/** Why the photograph is not as foretold: causes with their weight, where they show, and what to do at the bench. */
import { createSignal, For, onMount, Show as When } from "solid-js";
import { percent } from "../words/number.ts";
import type { EvidenceMark, SaidDiagnosis } from "./protocol.ts";

export function Diagnosis(props: {
  readonly diagnosis: SaidDiagnosis;
  /** told undefined where nothing is to be marked any more */
  readonly onShow: (mark: EvidenceMark | undefined) => void;
}) {
  const [shown, setShown] = createSignal<number>();
  const toggle = (at: number, mark: EvidenceMark): void => {
    const next = shown() === at ? undefined : at;
    setShown(next);
    props.onShow(next === undefined ? undefined : mark);
  };
  return (
    <section
      class="diagnosis"
      aria-label="Diagnosis"
      tabIndex={-1}
      // It takes the place of the button that asked for it, and its focus.
      ref={(element) => onMount(() => element.focus({ preventScroll: true }))}
    >
      <h3>Diagnosis</h3>
      <p>{props.diagnosis.text}</p>
      <ol>
        <For each={props.diagnosis.causes}>
          {(cause, at) => (
            <li>
              <p>
                <strong>{cause.title}</strong> <span class="number">{percent(cause.weight)}</span>
                <When when={cause.mark}>
                  {(mark) => (
                    <button
                      type="button"
                      class="word"
                      aria-pressed={shown() === at()}
                      onClick={() => toggle(at(), mark())}
                    >
                      {shown() === at() ? `marked on the ${NAMES[mark().frame]}` : "mark on the picture"}
                    </button>
                  )}
                </When>
              </p>
              <p class="quiet">{`Seen: ${cause.evidence}.`}</p>
              <p>{`At the bench: ${cause.remedy}`}</p>
              <When when={cause.test}>
                {(test) => <p class="quiet">{`One picture cannot decide it. ${test()}`}</p>}
              </When>
            </li>
          )}
        </For>
      </ol>
    </section>
  );
}

const NAMES: Readonly<Record<EvidenceMark["frame"], string>> = {
  hot: "photograph",
  cold: "cold frame",
  lamp: "lamp frame",
};
