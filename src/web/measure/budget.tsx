/** The uncertainty budget: what each cause does to the two columns, as bars of one scale. */
import { For } from "solid-js";
import { percent } from "../words/number.ts";
import type { PhotoReading } from "./protocol.ts";

const WIDTH = 96;

export function Budget(props: { readonly reading: PhotoReading }) {
  const rows = () => props.reading.budget;
  const largest = () => Math.max(1e-9, ...rows().flatMap((row) => [row.columnGradient, row.columnDensity]));
  const bar = (share: number, ink: string) => (
    <td class="share">
      <svg class="bar" width={WIDTH} height="12" aria-hidden="true">
        <rect class={ink} y="2" width={(WIDTH * share) / largest()} height="8" />
      </svg>{" "}
      <span class="number">{share < 5e-4 ? "< 0.1 %" : percent(share)}</span>
    </td>
  );
  return (
    <section class="budget" aria-label="Uncertainty budget">
      <h3>Where the uncertainty comes from</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">cause</th>
            <th scope="col">column gradient</th>
            <th scope="col">column density</th>
          </tr>
        </thead>
        <tbody>
          <For each={rows()}>
            {(row) => (
              <tr>
                <th scope="row">{row.cause}</th>
                {bar(row.columnGradient, "bar-copper")}
                {bar(row.columnDensity, "bar-blue")}
              </tr>
            )}
          </For>
        </tbody>
      </table>
      <p class="quiet">
        {`The fit leaves ${props.reading.reducedChiSquare.toFixed(2)} of the noise it expects per pixel (χ² per degree of freedom); 1 is a perfect model.`}
      </p>
    </section>
  );
}
