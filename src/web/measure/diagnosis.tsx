/** Why the photograph is not as foretold: causes with their weight, where they show, and what to do at the bench. */
import { createSignal, For, onMount, Show as When } from "solid-js";
import { percent } from "../words/number.ts";
import type { EvidenceMark, SaidCause, SaidDiagnosis } from "./protocol.ts";

/** Causes that weigh less are folded away: on a good day each of them holds a few per cent of nothing. */
const LIKELY = 0.05;

export function Diagnosis(props: {
  readonly diagnosis: SaidDiagnosis;
  /** told undefined where nothing is to be marked any more */
  readonly onShow: (mark: EvidenceMark | undefined) => void;
}) {
  const [shown, setShown] = createSignal<SaidCause>();
  const toggle = (cause: SaidCause): void => {
    const next = shown() === cause ? undefined : cause;
    setShown(next);
    props.onShow(next?.mark);
  };
  /** Heaviest first, so that those worth a look come before all others; one at least. */
  const likely = () => Math.max(1, props.diagnosis.causes.filter(({ weight }) => weight >= LIKELY).length);
  const list = (causes: readonly SaidCause[]) => (
    <For each={causes}>{(cause) => <Cause cause={cause} shown={shown() === cause} onToggle={toggle} />}</For>
  );
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
      <ol>{list(props.diagnosis.causes.slice(0, likely()))}</ol>
      <When when={props.diagnosis.causes.length > likely()}>
        <details>
          <summary>{`${props.diagnosis.causes.length - likely()} less likely, each below ${percent(LIKELY)}`}</summary>
          <ol start={likely() + 1}>{list(props.diagnosis.causes.slice(likely()))}</ol>
        </details>
      </When>
    </section>
  );
}

function Cause(props: {
  readonly cause: SaidCause;
  readonly shown: boolean;
  readonly onToggle: (cause: SaidCause) => void;
}) {
  return (
    <li>
      <p class="cause">
        <strong>{props.cause.title}</strong>
        <span class="number">{percent(props.cause.weight)}</span>
        <When when={props.cause.mark}>
          {(mark) => (
            <button
              type="button"
              class="word"
              aria-pressed={props.shown}
              onClick={() => props.onToggle(props.cause)}
            >
              {props.shown ? `marked on the ${NAMES[mark().frame]}` : "mark on the picture"}
            </button>
          )}
        </When>
      </p>
      <p class="quiet">{`Seen: ${props.cause.evidence}.`}</p>
      <p>{`At the bench: ${props.cause.remedy}`}</p>
      <When when={props.cause.test}>
        {(test) => <p class="quiet">{`One picture cannot decide it. ${test()}`}</p>}
      </When>
    </li>
  );
}

const NAMES: Readonly<Record<EvidenceMark["frame"], string>> = {
  hot: "photograph",
  cold: "cold frame",
  lamp: "lamp frame",
};
