/** How errors of setting and of knowledge spread, and which one to improve first. */
import { createUniqueId, For, Show as When } from "solid-js";
import { OUTCOMES } from "../../plan/outcomes.ts";
import type { Share, Spread } from "../../plan/spread.ts";
import { fieldAt } from "../../setup/fields.ts";
import type { LeafProps } from "../leaf-props.ts";
import { createJob } from "../planning/job.ts";
import type { Answers } from "../planning/protocol.ts";
import { Running } from "../planning/running.tsx";
import { percent, quantity } from "../words/number.ts";

const DRAWS = 400;
const TOLD = ["height", "halfGap", "pairDistance", "asRead"] as const;

const KNOWN: Readonly<Record<string, string>> = {
  "knowledge.pressure": "published vapour pressure",
  "knowledge.strength": "published strength of the line",
  "knowledge.gasWidth": "published width by the gas",
};

const inputName = (path: string): string => KNOWN[path] ?? fieldAt(path)?.label ?? path;

function outcomeName(name: string): string {
  return name === "asRead"
    ? "density as read, over the true one"
    : (OUTCOMES.find((word) => word.name === name)?.label ?? name);
}

export function Improve(props: LeafProps) {
  const job = createJob<"tolerance">();
  const id = createUniqueId();
  return (
    <section aria-labelledby={id}>
      <h3 id={id}>What to improve first</h3>
      <p class="quiet">
        The usual errors of setting and of knowledge, each alone and then all drawn together by chance.
      </p>
      <p class="deeds">
        <button
          type="button"
          class="word strong"
          disabled={job.busy()}
          onClick={() =>
            job.ask({ task: "tolerance", setup: props.store.bench().setup, draws: DRAWS, seed: 1 })
          }
        >
          reckon the errors
        </button>
        <span class="quiet">{`${DRAWS} draws`}</span>
      </p>
      <Running job={job} doing="forecasting with errors" />
      <When when={job.answer()}>{(answer) => <Budget answer={answer()} />}</When>
    </section>
  );
}

function Budget(props: { readonly answer: Answers["tolerance"] }) {
  const spreads = () =>
    TOLD.flatMap((name) => {
      const spread = props.answer.answer.spreads[name];
      return spread === undefined ? [] : [{ name, spread }];
    });
  return (
    <>
      <ul class="first">
        <For each={spreads().filter(({ spread }) => spread.improveFirst !== null)}>
          {({ name, spread }) => <li>{sentence(name, spread)}</li>}
        </For>
      </ul>
      <div class="budgets">
        <For each={spreads().filter(({ spread }) => spread.improveFirst !== null)}>
          {({ name, spread }) => (
            <table>
              <caption>{outcomeName(name)}</caption>
              <thead class="unseen">
                <tr>
                  <th scope="col">input</th>
                  <th scope="col">share of the variance</th>
                </tr>
              </thead>
              <tbody>
                <For
                  each={spread.firstOrder.shares.filter(({ share }) => Math.abs(share) >= 0.01).slice(0, 6)}
                >
                  {(share) => <Bar share={share} />}
                </For>
              </tbody>
            </table>
          )}
        </For>
      </div>
      <details>
        <summary>{`${props.answer.inputs.length} errors that were taken`}</summary>
        <ul>
          <For each={props.answer.inputs}>
            {(input) => (
              <li>
                {`${inputName(input.name)} ± ${input.unit === "1" ? percent(input.standard) : quantity(input.standard, input.unit)}`}{" "}
                <small class="quiet">{input.source}</small>
              </li>
            )}
          </For>
        </ul>
      </details>
      <When when={props.answer.answer.firstRefusal}>
        {(reason) => (
          <p class="quiet">{`${props.answer.answer.refused} draws lay outside what can be answered, first: ${reason()}`}</p>
        )}
      </When>
    </>
  );
}

function sentence(name: string, { nominal, firstOrder, draws, nonlinear, improveFirst }: Spread): string {
  const word = OUTCOMES.find((each) => each.name === name);
  const shown = (value: number): string => quantity(value, word?.unit ?? "1", word?.show ?? "1");
  const best = firstOrder.shares.find(({ input }) => input === improveFirst);
  const trust =
    nonlinear && draws !== null
      ? `; by the draws ± ${shown(draws.standardDeviation)}, which is to be trusted here`
      : "";
  const gain =
    best === undefined
      ? ""
      : `: ${inputName(best.input)} first, half its error makes the whole ${percent(best.gain)} smaller`;
  return `${outcomeName(name)} ${shown(nominal)} ± ${shown(firstOrder.standardUncertainty)}${trust}${gain}.`;
}

function Bar(props: { readonly share: Share }) {
  const width = () => Math.min(100, Math.max(0, 100 * props.share.share));
  return (
    <tr>
      <th scope="row">{inputName(props.share.input)}</th>
      <td>
        <svg width="104" height="10" aria-hidden="true">
          <rect class="bar-ink" x="0" y="1" width={width()} height="8" />
          <line class="tick" x1="0.5" x2="0.5" y1="0" y2="10" />
        </svg>{" "}
        {percent(props.share.share)}
      </td>
    </tr>
  );
}
