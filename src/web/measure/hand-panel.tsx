/** What the hand marks say, beside what the fit says. */
import { For, Show as When } from "solid-js";
import { formatWithUncertainty } from "../../quantity/index.ts";
import { minus, nanometres } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import type { Hand } from "./hand.ts";
import { HandTools } from "./hand-tools.tsx";
import { curveMarks } from "./marked.ts";
import type { Measuring } from "./measuring.ts";
import type { PhotoReading } from "./protocol.ts";

export function HandPanel(props: {
  readonly hand: Hand;
  readonly reading: PhotoReading;
  readonly measuring: Measuring;
}) {
  const fitted = () => props.reading.numbers.find(({ label }) => label.startsWith("column gradient"))?.value;
  const counted = () => curveMarks(props.hand.marked());
  return (
    <section class="hand" aria-label="Marks by hand">
      <h3>By hand</h3>
      <p class="quiet">
        Drag a mark, or choose it and move it with the arrow keys: one pixel, ten with Shift, a tenth with
        Alt. Delete strikes it and takes it back. A double click on the picture adds one; a drag across it
        looks only at that part. A mark that is added or moved takes the fit's start along; one that is struck
        leaves its column, and the rows of its uncertainty, out of the fit: drag the corners where more is
        amiss.
      </p>
      <HandTools hand={props.hand} measuring={props.measuring} />
      <div role="status">
        <When when={props.hand.reading()} fallback={<p class="fault">{props.hand.refused()}</p>}>
          {(said) => (
            <table>
              <tbody>
                <tr>
                  <th scope="row">{`column gradient, ${counted().length} marks`}</th>
                  <td>
                    <data class="hand-gradient" value={said().columnGradient.value}>
                      <Text
                        of={formatWithUncertainty(
                          said().columnGradient.value,
                          said().columnGradient.standardUncertainty,
                          "m-3",
                          {},
                        )}
                      />
                    </data>
                  </td>
                </tr>
                <tr>
                  <th scope="row">against the fit</th>
                  <td>
                    {minus((100 * (said().columnGradient.value / (fitted() ?? Number.NaN) - 1)).toFixed(2))}
                    {"\u202f%"}
                  </td>
                </tr>
                <tr>
                  <th scope="row">tilt</th>
                  <td>{`${minus((said().tilt * 1e3).toFixed(2))}\u202fmrad`}</td>
                </tr>
                <tr>
                  <th scope="row">marks scatter by</th>
                  <td>{`${said().scatter.toFixed(2)}\u202fpx`}</td>
                </tr>
                <When when={said().lineSeparation}>
                  {(separation) => (
                    <tr>
                      <th scope="row">lines apart, setup's scale</th>
                      <td>{nanometres(separation(), 4)}</td>
                    </tr>
                  )}
                </When>
              </tbody>
            </table>
          )}
        </When>
      </div>
      <details>
        <summary>how far each stands off</summary>
        <ol class="mark-list">
          <For each={counted()}>
            {(mark, i) => (
              <li>{`column ${mark.column.toFixed(1)}, row ${mark.row.toFixed(1)}: ${minus((props.hand.reading()?.residuals[i()] ?? 0).toFixed(2))} px`}</li>
            )}
          </For>
        </ol>
      </details>
    </section>
  );
}
