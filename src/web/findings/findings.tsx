/** Findings as sentences: the heaviest first, each with the one link that mends it, and the cautions under them. */
import { For, Show as When } from "solid-js";
import type { Finding } from "../../plan/finding.ts";

const WEIGHT = { stop: 0, mind: 1, fine: 2 } as const;

export function Findings(props: {
  readonly findings: readonly Finding[];
  readonly cautions: readonly Finding[];
  readonly onMend: (finding: Finding) => void;
}) {
  const sorted = () => [...props.findings].sort((a, b) => WEIGHT[a.level] - WEIGHT[b.level]);
  return (
    <section class="findings" aria-label="Findings about this setup">
      <ul>
        <For each={sorted()}>{(finding) => <Line finding={finding} onMend={props.onMend} />}</For>
      </ul>
      <h2 id="cautions">Cautions</h2>
      <p class="quiet">Advice, not a permit: local codes, the laboratory's safety officer and licensed practice decide.</p>
      <ul>
        <For each={props.cautions}>{(finding) => <Line finding={finding} onMend={props.onMend} sourced />}</For>
      </ul>
    </section>
  );
}

function Line(props: { readonly finding: Finding; readonly onMend: (finding: Finding) => void; readonly sourced?: boolean }) {
  return (
    <li class={`finding ${props.finding.level}`}>
      <strong>{props.finding.level}</strong>
      <span>
        {props.finding.sentence}
        <When when={props.sourced === true}>
          <small>{` ${props.finding.source}`}</small>
        </When>
      </span>
      <When when={props.finding.remedy?.set !== undefined && props.finding.remedy}>
        {(remedy) => (
          <button type="button" class="word mend" onClick={() => props.onMend(props.finding)}>
            {remedy().text}
          </button>
        )}
      </When>
    </li>
  );
}
