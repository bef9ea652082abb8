/** The inside of the tube: density, temperature or supersaturation in cuts with contours, the wall unrolled, and the way along the beam. */
import { createEffect, createMemo, createSignal, onCleanup, Show as When } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import { Plot } from "../figure/plot.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { significant } from "../words/number.ts";
import type { Field2D } from "../worker/protocol.ts";
import { FieldMap } from "./field-map.tsx";
import type { Cuts, Inside, Question, Reply } from "./protocol.ts";
import { profileAxis } from "./scales.ts";
import "./inside.css";

const QUANTITIES = ["density", "temperature", "supersaturation"] as const;
type Quantity = (typeof QUANTITIES)[number];

interface Shown {
  readonly unit: string;
  /** SI value to what is written */
  readonly write: (value: number) => number;
  readonly says: string;
}

const SHOWN: Readonly<Record<Quantity, Shown>> = {
  density: {
    unit: "m\u207B\u00B3",
    write: (value) => value,
    says: "Light bends towards the denser side, by strength times gradient times length.",
  },
  temperature: {
    unit: "°C",
    write: (value) => value - 273.15,
    says: "The gas takes its temperature from the wall all round; its own gradient bends every colour alike.",
  },
  supersaturation: {
    unit: "",
    write: (value) => value,
    says: "Above one the vapour would rather be liquid; from about five on fog is likely.",
  },
};

export default function InsideTube(props: LeafProps) {
  const [inside, setInside] = createSignal<Inside>();
  const [trouble, setTrouble] = createSignal<string>();
  const [quantity, setQuantity] = createSignal<Quantity>("density");
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "inside" });
  onCleanup(() => worker.terminate());
  let asked = 0;
  let busy = false;
  let waiting = false;
  const ask = (): void => {
    asked += 1;
    busy = true;
    waiting = false;
    worker.postMessage({ id: asked, setup: props.store.bench().setup } satisfies Question);
  };
  worker.onmessage = (event: MessageEvent<Reply>) => {
    busy = false;
    const reply = event.data;
    if ("inside" in reply) {
      setTrouble(undefined);
      setInside(reply.inside);
    } else setTrouble(reply.sentence);
    if (waiting) ask();
  };
  const setup = createMemo(() => props.store.bench().setup);
  createEffect(() => {
    setup();
    if (busy) waiting = true;
    else ask();
  });
  const shown = () => SHOWN[quantity()];

  return (
    <div class="inside">
      <When when={trouble()}>
        {(sentence) => (
          <p class="fault" role="alert">
            {sentence()}
          </p>
        )}
      </When>
      <When when={inside()} fallback={<p class="waiting">The tube is being looked into…</p>}>
        {(found) => {
          const cuts = (): Cuts => found()[quantity()];
          return (
            <>
              <Choice label="What is drawn" options={QUANTITIES} value={quantity()} onChoose={setQuantity} />
              <p class="quiet">{shown().says}</p>
              <div class="cuts">
                <FieldMap
                  title="Across, at mid-length"
                  field={cuts().cross}
                  range={rangeOf(cuts().cross)}
                  shown={shown()}
                  theme={props.theme.theme()}
                  round
                  beam={{ ...found().beam, across: true }}
                  xLabel="across, mm"
                  yLabel="height, mm"
                />
                <FieldMap
                  title="Along, in the plumb plane through the axis"
                  field={cuts().long}
                  range={rangeOf(cuts().long)}
                  shown={shown()}
                  theme={props.theme.theme()}
                  beam={{ ...found().beam, across: false }}
                  xLabel="along the light, mm"
                  yLabel="height, mm"
                />
              </div>
              <Profile inside={found()} quantity={quantity()} shown={shown()} />
              <FieldMap
                title="The wall, unrolled: its bottom along the middle, its top along both edges"
                field={found().wall}
                range={rangeOf(found().wall)}
                shown={SHOWN.temperature}
                theme={props.theme.theme()}
                xLabel="along the light, mm"
                yLabel="round the wall, mm"
              />
            </>
          );
        }}
      </When>
    </div>
  );
}

function rangeOf({ values }: Field2D): { readonly from: number; readonly to: number } {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < from) from = value;
    if (value > to) to = value;
  }
  return { from, to };
}

function Profile(props: { readonly inside: Inside; readonly quantity: Quantity; readonly shown: Shown }) {
  const { z } = props.inside.profile;
  const y = () => props.inside.profile[props.quantity].map((value) => props.shown.write(value));
  const scaled = createMemo(() => profileAxis(y(), props.quantity, props.shown.unit));
  return (
    <div>
      <h3>On the beam, from window to window</h3>
      <Plot
        title={`${props.quantity} on the beam`}
        summary={`${props.quantity} along the light at the beam's height: ${significant(y()[y().length >> 1] ?? 0)} ${props.shown.unit} at mid-length, ${significant(y()[0] ?? 0)} ${props.shown.unit} at the window.`}
        x={props.inside.profile.z.map((m) => m * 1e3)}
        xAxis={{
          label: "along the light",
          unit: "mm",
          from: (z[0] ?? 0) * 1e3,
          to: (z.at(-1) ?? 1) * 1e3,
          ticks: 8,
        }}
        yAxis={scaled().axis}
        series={[{ name: props.quantity, y: scaled().y, ink: "copper" }]}
        height={170}
        margin={{ left: 64, right: 8 }}
      />
    </div>
  );
}
