/** What was found: a short list along the trade-off, each opened with one click, with what limits it. */
import { createMemo, For, Show as When } from "solid-js";
import type { Choice, Chosen } from "../../plan/choose.ts";
import { OUTCOMES, type OutcomeWord } from "../../plan/outcomes.ts";
import { formatQuantity, fromCoherent, parseQuantity } from "../../quantity/index.ts";
import { fieldAt } from "../../setup/fields.ts";
import { Plot } from "../figure/plot.tsx";
import type { BenchStore } from "../state/store.ts";
import { quantity, significant } from "../words/number.ts";
import { Wide } from "../planning/wide.tsx";

const SHOWN = [
  "height",
  "halfGap",
  "pairTimes",
  "bridgeDetails",
  "screenLuminance",
  "supersaturation",
  "bottom",
  "warmUp",
  "metalLoss",
];

export function Found(props: { readonly chosen: Chosen; readonly store: BenchStore }) {
  const list = createMemo((): readonly Choice[] => {
    const { choices, nearest } = props.chosen;
    return choices.length > 0 ? choices : nearest === null ? [] : [nearest];
  });
  const columns = createMemo(() =>
    OUTCOMES.filter(
      (word) => SHOWN.includes(word.name) && list().some((choice) => choice.outcome[word.name] !== null),
    ),
  );
  const paths = () => Object.keys(list()[0]?.set ?? {});
  return (
    <div class="found">
      <p role="status">
        {list().length === 0
          ? "None of the setups tried shows a line at all: free more, or begin from another setup."
          : props.chosen.choices.length === 0
            ? `Nothing keeps all limits; this one comes nearest. ${props.chosen.forecasts} forecasts made.`
            : `${list().length === 1 ? "One setup stands out" : `${list().length} setups along the trade-off`}; ${props.chosen.forecasts} forecasts made.`}
      </p>
      <When when={list().length > 0}>
        <Wide label="Setups found">
          <table>
            <caption class="unseen">Setups found, best first</caption>
            <thead>
              <tr>
                <th scope="col">
                  <span class="unseen">open</span>
                </th>
                <For each={paths()}>{(path) => <th scope="col">{fieldAt(path)?.label ?? path}</th>}</For>
                <For each={columns()}>{(word) => <th scope="col">{word.label}</th>}</For>
                <th scope="col">held by</th>
              </tr>
            </thead>
            <tbody>
              <For each={list()}>
                {(choice, i) => (
                  <tr>
                    <th scope="row">
                      <button
                        type="button"
                        class="word mend"
                        onClick={() => props.store.set(choice.set, `choose setup ${i() + 1}`)}
                      >
                        {`open ${i() + 1}`}
                      </button>
                    </th>
                    <For each={paths()}>{(path) => <td>{setText(path, choice.set[path])}</td>}</For>
                    <For each={columns()}>{(word) => <td>{toldValue(word, choice)}</td>}</For>
                    <td class="words">{limits(choice)}</td>
                  </tr>
                )}
              </For>
            </tbody>
          </table>
        </Wide>
        <TradeOff chosen={props.chosen} />
        <details>
          <summary>{`${props.chosen.bounds.length} limits kept`}</summary>
          <ul>
            <For each={props.chosen.bounds}>
              {(bound) => {
                const word = OUTCOMES.find((each) => each.name === bound.outcome);
                return (
                  <li>
                    {`${word?.label ?? bound.outcome} ${bound.sense.replace("-", " ")} ${word === undefined ? bound.value : quantity(bound.value, word.unit, word.show)}`}{" "}
                    <small class="quiet">{bound.source}</small>
                  </li>
                );
              }}
            </For>
          </ul>
        </details>
      </When>
    </div>
  );
}

function toldValue(word: OutcomeWord, choice: Choice): string {
  const value = choice.outcome[word.name];
  return value === null ? "none" : quantity(value, word.unit, word.show);
}

/** What is set, to the digits that a hand can set. */
function setText(path: string, text: string | undefined): string {
  const field = fieldAt(path);
  if (text === undefined || field?.kind !== "quantity") return text ?? "";
  return formatQuantity(parseQuantity(text, field.unit, field.label), field.unit, {
    digits: 3,
    as: field.show,
  });
}

function limits({ limitedBy }: Choice): string {
  if (limitedBy.length === 0) return "nothing";
  return limitedBy
    .map((text) => text.replace(/^\S+\.\S+(?= at its)/, (path) => fieldAt(path)?.label ?? path))
    .join(", ");
}

/** Two wishes against each other, where there are two. */
function TradeOff(props: { readonly chosen: Chosen }) {
  const figure = createMemo(() => {
    const [first, second] = props.chosen.wishes.map((wish) =>
      OUTCOMES.find((word) => word.name === wish.outcome),
    );
    if (first === undefined || second === undefined || props.chosen.choices.length < 3) return undefined;
    const points = props.chosen.choices
      .map(({ outcome }) => [
        fromCoherent(outcome[first.name] ?? 0, first.show),
        fromCoherent(outcome[second.name] ?? 0, second.show),
      ])
      .sort((a, b) => a[0] - b[0]);
    return { first, second, x: points.map(([x]) => x), y: points.map(([, y]) => y) };
  });
  return (
    <When when={figure()}>
      {(drawn) => (
        <Plot
          title={`${drawn().second.label} against ${drawn().first.label}`}
          summary={`From ${significant(drawn().x[0])} and ${significant(drawn().y[0])} to ${significant(drawn().x.at(-1) ?? 0)} and ${significant(drawn().y.at(-1) ?? 0)}.`}
          x={drawn().x}
          xAxis={axisOf(drawn().first, drawn().x)}
          yAxis={axisOf(drawn().second, drawn().y)}
          series={[{ name: "trade-off", y: drawn().y, ink: "copper" }]}
          height={170}
        />
      )}
    </When>
  );
}

function axisOf(word: OutcomeWord, values: readonly number[]) {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = 0.06 * (high - low) || 1;
  const unit = word.show === "1" ? "" : word.show.replace("degC", "°C");
  return { label: word.label, unit, from: low - room, to: high + room, ticks: 4 };
}
