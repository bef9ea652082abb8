/** Findings and cautions as sentences, each with the one link that mends it. */
import { For, Show as When } from "solid-js";
import type { Finding } from "../../plan/finding.ts";

const WEIGHT = { stop: 0, mind: 1, fine: 2 };

/** Under the picture: what stands in the way first, cautions that say stop among it; what is fine folded away. */
export function Findings(props: {
  readonly findings: readonly Finding[];
  readonly cautions: readonly Finding[];
  readonly onMend: (finding: Finding) => void;
}) {
  const heavy = () =>
    [
      ...props.cautions.filter(({ level }) => level === "stop"),
      ...props.findings.filter(({ level }) => level !== "fine"),
    ].sort((a, b) => WEIGHT[a.level] - WEIGHT[b.level]);
  const fine = () => props.findings.filter(({ level }) => level === "fine");
  return (
    <section class="findings" aria-label="Findings about this setup">
      <ul>
        <For each={heavy()}>{(finding) => <Line finding={finding} onMend={props.onMend} />}</For>
      </ul>
      <div class="finding-foot">
        <When when={fine().length > 0}>
          <details open={heavy().length === 0}>
            <summary>{`${fine().length} ${fine().length === 1 ? "thing is" : "things are"} fine`}</summary>
            <ul>
              <For each={fine()}>{(finding) => <Line finding={finding} onMend={props.onMend} />}</For>
            </ul>
          </details>
        </When>
        <a class="word" href="#cautions">
          {`all ${props.cautions.length} cautions`}
        </a>
      </div>
    </section>
  );
}

/** The usual cautions in full, each with its source. */
export function Cautions(props: {
  readonly cautions: readonly Finding[];
  readonly onMend: (finding: Finding) => void;
}) {
  return (
    <section class="cautions" aria-labelledby="cautions">
      <h2 id="cautions">Cautions</h2>
      <p class="quiet">
        Advice, not a permit: local codes, the laboratory's safety officer and licensed practice decide.
      </p>
      <ul>
        <For each={props.cautions}>
          {(finding) => <Line finding={finding} onMend={props.onMend} sourced />}
        </For>
      </ul>
    </section>
  );
}

function Line(props: {
  readonly finding: Finding;
  readonly onMend: (finding: Finding) => void;
  readonly sourced?: boolean;
}) {
  return (
    <li class={`finding ${props.finding.level}`}>
      <strong>{props.finding.level}</strong>
      <span>
        {props.finding.sentence}
        <When when={props.sourced === true}>
          <small>{` ${props.finding.source}`}</small>
        </When>
      </span>
      <When when={props.finding.remedy}>
        {(remedy) => (
          <When when={remedy().set !== undefined} fallback={<span class="quiet">{remedy().text}</span>}>
            <button type="button" class="word mend" onClick={() => props.onMend(props.finding)}>
              {remedy().text}
            </button>
          </When>
        )}
      </When>
    </li>
  );
}
