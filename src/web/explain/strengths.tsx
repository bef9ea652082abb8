/** The classical atom with one electron on one spring against the published strengths. */
import { For, Show as When } from "solid-js";
import type { ViewProps } from "./view-props.ts";
import { useTongue } from "./tongue.ts";

const WIDTH = 320;

export function Strengths(props: ViewProps) {
  const tongue = useTongue();
  const say = () => tongue().words.strengths;
  return (
    <When when={props.teacher.facts()}>
      {(facts) => (
        <>
          <svg
            class="strengths"
            viewBox={`0 0 600 ${36 * facts().lines.length + 44}`}
            role="img"
            aria-label={facts()
              .lines.map((line) => `${tongue().nm(line.wavelength)}: ${tongue().numbers.text(line.strength)}`)
              .join("; ")}
          >
            <For each={facts().lines}>
              {(line, i) => (
                <g transform={`translate(0 ${36 * i() + 10})`}>
                  <text x="130" y="16" text-anchor="end">
                    {tongue().nm(line.wavelength)}
                  </text>
                  <rect class="classical" x="150" width={WIDTH} height="22" />
                  <rect
                    class="published"
                    x="150"
                    width={Math.max(1, WIDTH * Math.min(1.25, line.strength))}
                    height="22"
                  />
                  <text x={WIDTH + 170} y="16">
                    {tongue().numbers.text(line.strength)}
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
                <th scope="col">{say().line}</th>
                <th scope="col">{say().strength}</th>
                <th scope="col">{say().classical}</th>
              </tr>
            </thead>
            <tbody>
              <For each={facts().lines}>
                {(line) => (
                  <tr>
                    <th scope="row">{tongue().nm(line.wavelength, 3)}</th>
                    <td>{tongue().numbers.text(line.strength)}</td>
                    <td>{tongue().numbers.text(1 / line.strength)}</td>
                  </tr>
                )}
              </For>
            </tbody>
          </table>
          <p>{(facts().sum > 1 ? say().above : say().sum)(tongue().numbers.percent(facts().sum))}</p>
        </>
      )}
    </When>
  );
}
