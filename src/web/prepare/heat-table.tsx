/** The heating table of the sheet, with places for what is read. */
import { For, Show as When } from "solid-js";
import type { RunSheet } from "../../plan/run-sheet.ts";
import type { Kept } from "../planning/kept.ts";
import { Picture } from "./picture.tsx";
import { Text, type Written } from "./write.tsx";
import { Wide } from "../planning/wide.tsx";

const celsius = (kelvin: number): string => `${Math.round(kelvin - 273.15)}\u202f°C`;
const minutes = (seconds: number): string => `${Math.round(seconds / 60)}\u202fmin`;

export function HeatTable(props: {
  readonly sheet: RunSheet;
  readonly kept: Kept<Written>;
  readonly theme: string;
}) {
  const { heat, heating } = props.sheet;
  return (
    <>
      <p>
        {`${heat.ready === null ? "Not at rest within twelve hours." : `Ready after ${minutes(heat.ready)}.`} ${heat.sentence}`}
      </p>
      <When when={heat.settings.length > 0}>
        <p>
          By hand:{" "}
          {heat.settings
            .map(
              ({ from, power }) =>
                `${Math.round(power)}\u202fW ${from === 0 ? "from the start" : `from ${minutes(from)}`}`,
            )
            .join(", ")}
          .
        </p>
      </When>
      <p class="quiet">
        {`Pictures show what the camera should see${props.theme === "paper" ? ", dark where there is light" : ""}.`}
      </p>
      <Wide label="Heating table">
        <table class="heating">
          <caption class="unseen">Heating</caption>
          <thead>
            <tr>
              <For each={["after", "set", "metal", "top", "what should be seen", "read, at"]}>
                {(name) => <th scope="col">{name}</th>}
              </For>
            </tr>
          </thead>
          <tbody>
            <For each={heating}>
              {(row, i) => (
                <tr>
                  <th scope="row">{minutes(row.time)}</th>
                  <td>{`${Math.round(row.power)}\u202fW`}</td>
                  <td>{celsius(row.bottom)}</td>
                  <td>{celsius(row.top)}</td>
                  <td class="words">
                    {[row.mark, row.see].filter((part) => part !== "").join("; ")}
                    <When when={row.picture}>
                      {(image) => (
                        <Picture
                          image={image()}
                          caption={`metal at ${celsius(row.bottom)}`}
                          theme={props.theme}
                        />
                      )}
                    </When>
                  </td>
                  <td>
                    <Text
                      kept={props.kept}
                      place={`heat ${i()}`}
                      label={`reading at ${celsius(row.bottom)}`}
                      hint="°C, time"
                    />
                  </td>
                </tr>
              )}
            </For>
          </tbody>
        </table>
      </Wide>
    </>
  );
}
