/** Every metal and line side by side, as this bench would show it. */
import { createUniqueId, For, Show as When } from "solid-js";
import type { ElementRow } from "../../plan/elements.ts";
import type { LeafProps } from "../leaf-props.ts";
import { createJob } from "../planning/job.ts";
import { Running } from "../planning/running.tsx";
import { nanometres, quantity } from "../words/number.ts";
import { Wide } from "../planning/wide.tsx";

/** Codes of cautions in a word or two. */
const HAZARD_WORDS: Readonly<Record<string, string>> = {
  "alkali-and-water": "water",
  "metal-and-water": "water",
  superoxide: "superoxide",
  barium: "poisonous",
  nitride: "nitrogen",
  "zinc-fume": "fume",
  "metal-fire": "metal fire",
};

export function Metals(props: LeafProps) {
  const job = createJob<"elements">();
  const id = createUniqueId();
  const open = (row: ElementRow): void =>
    props.store.set(row.set, `${row.element} at ${nanometres(row.wavelength, 1)}`);
  return (
    <section aria-labelledby={id}>
      <h3 id={id}>By metal</h3>
      <p class="quiet">
        Each line is put in the middle of the picture and heated until its half-gap is one and a half times
        the blur of this bench, with the warmest top that keeps the bend.
      </p>
      <p class="deeds">
        <button
          type="button"
          class="word strong"
          disabled={job.busy()}
          onClick={() => job.ask({ task: "elements", setup: props.store.bench().setup })}
        >
          put the metals side by side
        </button>
      </p>
      <Running job={job} doing="heating one metal after another" />
      <When when={job.answer()}>
        {(rows) => (
          <Wide label="Metals side by side">
            <table>
              <caption class="unseen">What could be shown with this bench</caption>
              <thead>
                <tr>
                  <For
                    each={[
                      "metal",
                      "line, vacuum",
                      "colour",
                      "metal at",
                      "top at",
                      "height",
                      "half-gap",
                      "pair in blurs",
                      "cautions",
                      "to know",
                    ]}
                  >
                    {(name) => <th scope="col">{name}</th>}
                  </For>
                </tr>
              </thead>
              <tbody>
                <For each={rows()}>{(row) => <Row row={row} onOpen={() => open(row)} />}</For>
              </tbody>
            </table>
          </Wide>
        )}
      </When>
    </section>
  );
}

function Row(props: { readonly row: ElementRow; readonly onOpen: () => void }) {
  const { row } = props;
  const line = nanometres(row.wavelength, 1);
  const { shown } = row;
  const outcome = shown?.outcome;
  const told = (value: number | null | undefined, unit: string, show: string): string =>
    value === null || value === undefined ? "none" : quantity(value, unit, show);
  const hazards = [...new Set(row.hazards.map((code) => HAZARD_WORDS[code] ?? code))].join(", ");
  return (
    <tr>
      <th scope="row">
        <When when={shown !== null} fallback={row.element}>
          <button
            type="button"
            class="word mend"
            aria-label={`open ${row.element} at ${line}`}
            onClick={() => props.onOpen()}
          >
            {row.element}
          </button>
        </When>
      </th>
      <td>{line}</td>
      <td class="words">{row.colour}</td>
      <td>{told(shown?.bottom, "K", "degC")}</td>
      <td>{told(shown?.top, "K", "degC")}</td>
      <td>{told(outcome?.height, "m", "mm")}</td>
      <td>{told(outcome?.halfGap, "m", "nm")}</td>
      <td>{told(outcome?.pairTimes, "1", "1")}</td>
      <td class="words">{hazards}</td>
      <td class="words">{row.remark}</td>
    </tr>
  );
}
