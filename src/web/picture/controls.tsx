/** What is set at the picture itself: its colours, its tints, its exposure, and the minute of the warm-up. */
import { createUniqueId, lazy, Show as When } from "solid-js";
import { FieldRow } from "../fields/row.tsx";
import { fieldAt } from "../../setup/fields.ts";
import { Choice } from "../figure/choice.tsx";
import { COLOURS } from "../state/bench.ts";
import type { BenchStore } from "../state/store.ts";
import type { Sight } from "../worker/protocol.ts";

const TintTable = lazy(() => import("./tints.tsx").then(({ TintTable: it }) => ({ default: it })));

const TINTS = ["plain", "tinted"] as const;
const EXPOSURE = fieldAt("camera.exposure");

export function PictureControls(props: {
  readonly store: BenchStore;
  readonly sight: Sight;
  readonly faults: ReadonlyMap<string, string>;
}) {
  const view = () => props.store.bench().view;
  return (
    <div class="picture-controls">
      <Choice
        label="In whose colours"
        options={COLOURS}
        value={view().colours}
        words={{ camera: "camera's colours", eye: "eye's colours" }}
        onChoose={(colours) => props.store.look({ colours })}
      />
      <Choice
        label="Where the light went"
        options={TINTS}
        value={view().tints ? "tinted" : "plain"}
        words={{ plain: "plain", tinted: "tinted by where the light went" }}
        onChoose={(choice) => props.store.look({ tints: choice === "tinted" })}
      />
      <When when={EXPOSURE}>
        {(field) => (
          <FieldRow
            field={{ ...field(), label: "exposed for" }}
            setup={props.store.bench().setup}
            store={props.store}
            faults={props.faults}
            onTell={() => undefined}
          />
        )}
      </When>
      <When when={props.sight.lastMinute}>
        {(last) => (
          <Minute last={last()} at={view().minute} onMinute={(minute) => props.store.look({ minute })} />
        )}
      </When>
      <When when={view().tints && props.sight.dark}>{(dark) => <TintTable dark={dark()} />}</When>
    </div>
  );
}

/** The handle of the day: which minute after the heater is switched on the picture shows. */
function Minute(props: {
  readonly last: number;
  readonly at: number | null;
  readonly onMinute: (minute: number | null) => void;
}) {
  const id = createUniqueId();
  const words = () => (props.at === null ? "steady" : `${props.at}\u202fmin`);
  return (
    <div class="row minute">
      <label for={id}>minute of the warm-up</label>
      <div class="value draggable">
        <input
          id={id}
          class="rule"
          type="range"
          min="0"
          max={props.last}
          step="2"
          value={props.at ?? props.last}
          aria-valuetext={words()}
          onInput={(event) => props.onMinute(Number(event.currentTarget.value))}
        />
        <output for={id}>{words()}</output>
      </div>
      <When when={props.at !== null}>
        <button type="button" class="word" onClick={() => props.onMinute(null)}>
          steady
        </button>
      </When>
    </div>
  );
}
