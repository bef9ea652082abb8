/** The classical atom with one electron on one spring against the published strengths. */
import { For, Show as When } from "solid-js";
import { nanometres, percent, significant } from "../words/number.ts";
import type { ViewProps } from "./view-props.ts";
import { WORDS } from "./words.en.ts";

const SAY = WORDS.strengths;
const WIDTH = 320;

export function Strengths(props: ViewProps) {
  return (
    <When when={props.teacher.facts()}>
      {(facts) => (
        <>
          <svg
            class="strengths"
            viewBox={`0 0 600 ${36 * facts().lines.length + 44}`}
            role="img"
            aria-label={facts()
              .lines.map((line) => `${nanometres(line.wavelength)}: ${significant(line.strength)}`)
              .join("; ")}
          >
            <For each={facts().lines}>
              {(line, i) => (
                <g transform={`translate(0 ${36 * i() + 10})`}>
                  <text x="130" y="16" text-anchor="end">
                    {nanometres(line.wavelength)}
                  </text>
                  <rect class="classical" x="150" width={WIDTH} height="22" />
                  <rect
                    class="published"
                    x="150"
                    width={Math.max(1, WIDTH * Math.min(1.25, line.strength))}
                    height="22"
                  />
                  <text x={WIDTH + 170} y="16">
                    {significant(line.strength)}
                  </text>
                </g>
              )}
            </For>
            <text x="150" y={36 * facts().lines.length + 30}>
              0
            </text>
            <text x={150 + WIDTH} y={36 * facts().lines.length + 30} text-anchor="middle">
              1
            </text>
          </svg>
          <table>
            <thead>
              <tr>
                <th scope="col">{SAY.line}</th>
                <th scope="col">{SAY.strength}</th>
                <th scope="col">{SAY.classical}</th>
              </tr>
            </thead>
            <tbody>
              <For each={facts().lines}>
                {(line) => (
                  <tr>
                    <th scope="row">{nanometres(line.wavelength, 3)}</th>
                    <td>{significant(line.strength)}</td>
                    <td>{significant(1 / line.strength)}</td>
                  </tr>
                )}
              </For>
            </tbody>
          </table>
          <p>{(facts().sum > 1 ? SAY.above : SAY.sum)(percent(facts().sum))}</p>
        </>
      )}
    </When>
  );
}
