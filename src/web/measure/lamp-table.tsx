/** The wavelength scale: which lamp line stands where, and by how much it misses its published place. */
import { For, Show as When } from "solid-js";
import { minus } from "../words/number.ts";
import type { PhotoReading } from "./protocol.ts";

const WORDS: Readonly<Record<PhotoReading["lamp"]["source"], string>> = {
  lamp: "Taken from the lamp's lines.",
  marks: "Taken from two marks set by hand and the setup's disperser: no lamp frame.",
  "vapour-pair": "Taken from the vapour's own pair of lines and the setup's disperser: no lamp frame.",
  setup: "Taken from the setup's disperser, moved onto the one line: no lamp frame.",
};

export function LampTable(props: { readonly reading: PhotoReading }) {
  const lamp = () => props.reading.lamp;
  const largest = () => Math.max(1e-15, ...lamp().marks.map(({ residual }) => Math.abs(residual)));
  return (
    <section class="lamp-scale" aria-label="Wavelength scale">
      <h3>Wavelength scale</h3>
      <p class="quiet">
        {WORDS[lamp().source]}
        <When when={lamp().source === "lamp"}>{` Residuals ${pm(lamp().rms)} r.m.s.`}</When>
      </p>
      <When when={lamp().marks.length > 0}>
        <table>
          <thead>
            <tr>
              <th scope="col">column</th>
              <th scope="col">line</th>
              <th scope="col">measured − published</th>
              <td aria-hidden="true" />
            </tr>
          </thead>
          <tbody>
            <For each={lamp().marks}>
              {(mark) => (
                <tr>
                  <td class="number">{mark.column.toFixed(2)}</td>
                  <th scope="row">
                    {mark.names.length > 0 ? mark.names.join(" + ") : "not one of the named"}
                  </th>
                  <td class="number">{mark.names.length > 0 ? pm(mark.residual) : ""}</td>
                  <td>
                    <svg class="bar" width="80" height="12" aria-hidden="true">
                      <line class="tick" x1="40" x2="40" y2="12" />
                      <When when={mark.names.length > 0}>
                        <rect
                          class="bar-copper"
                          x={40 + Math.min(0, (38 * mark.residual) / largest())}
                          y="3"
                          width={Math.abs((38 * mark.residual) / largest())}
                          height="6"
                        />
                      </When>
                    </svg>
                  </td>
                </tr>
              )}
            </For>
          </tbody>
        </table>
      </When>
    </section>
  );
}

function pm(metres: number): string {
  const value = metres * 1e12;
  const text = value.toFixed(Math.abs(value) < 10 ? 2 : 1);
  // A residual that rounds to nothing has no sign.
  return `${minus(Number(text) === 0 ? text.replace("-", "") : text)} pm`;
}
