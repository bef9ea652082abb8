/** Why the photograph is not as foretold: causes with their weight, where they show, and what to do at the bench. */
import { createSignal, For, Show as When } from "solid-js";
import { percent } from "../words/number.ts";
import type { EvidenceMark, SaidDiagnosis } from "./protocol.ts";

export function Diagnosis(props: {
  readonly diagnosis: SaidDiagnosis;
  readonly onShow: (marks: readonly EvidenceMark[]) => void;
}) {
  const [shown, setShown] = createSignal<number>();
  const toggle = (at: number, marks: readonly EvidenceMark[]): void => {
    const next = shown() === at ? undefined : at;
    setShown(next);
    props.onShow(next === undefined ? [] : marks);
  };
  return (
    <section class="diagnosis" aria-label="Diagnosis">
      <h3>Diagnosis</h3>
      <p>{props.diagnosis.text}</p>
      <ol>
        <For each={props.diagnosis.causes}>
          {(cause, at) => (
            <li>
              <p>
                <strong>{cause.title}</strong> <span class="number">{percent(cause.weight)}</span>
                <When when={cause.marks.length > 0}>
                  {" "}
                  <button
                    type="button"
                    class="word"
                    aria-pressed={shown() === at()}
                    onClick={() => toggle(at(), cause.marks)}
                  >
                    {shown() === at() ? "marked on the picture" : "mark on the picture"}
                  </button>
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
