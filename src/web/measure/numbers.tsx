/** What a photograph says: a verdict, numbers with their uncertainties, and what was assumed on the way. */
import { For, Show as When } from "solid-js";
import { formatWithUncertainty } from "../../quantity/index.ts";
import { Text } from "../words/text.tsx";
import type { PhotoReading } from "./protocol.ts";

export function Numbers(props: { readonly reading: PhotoReading }) {
  return (
    <section class="numbers" aria-label="What the photograph says">
      <p class="verdict">
        <strong>{props.reading.verdict.code}</strong> {props.reading.verdict.text}
      </p>
      <table>
        <caption class="unseen">
          What the photograph says, with combined standard uncertainties in the last digits
        </caption>
        <tbody>
          <For each={props.reading.numbers}>
            {(number) => (
              <tr>
                <th scope="row">{number.label}</th>
                <td>
                  <data value={number.value}>
                    <Text
                      of={formatWithUncertainty(
                        number.value,
                        number.combinedUncertainty,
                        number.unit,
                        number.as === undefined ? {} : { as: number.as },
                      )}
                    />
                  </data>
                </td>
              </tr>
            )}
          </For>
        </tbody>
      </table>
      <p class="quiet">
        Figures in brackets are the standard uncertainty in the last digits: noise and systematic parts
        together.
      </p>
      <When when={props.reading.marked}>{(said) => <p class="quiet marked">{said()}</p>}</When>
      <ul>
        <For each={props.reading.warnings}>{(warning) => <li>{warning}</li>}</For>
      </ul>
      <details class="derived">
        <summary>what follows from it</summary>
        <ul>
          <For each={props.reading.derived}>
            {(sentence) => (
              <li>
                <Text of={sentence} />
              </li>
            )}
          </For>
        </ul>
      </details>
      <details>
        <summary>{`${props.reading.assumptions.length} things assumed`}</summary>
        <ul>
          <For each={props.reading.assumptions}>{(assumption) => <li>{assumption}</li>}</For>
        </ul>
      </details>
    </section>
  );
}
