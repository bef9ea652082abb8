/** The curves of the open setup over one another on one scale of wavelengths, and what blurs them. */
import { createMemo, For, Show as When } from "solid-js";
import { scaled, wavelengthAxis } from "../figure/curves.ts";
import { Plot, type Series } from "../figure/plot.tsx";
import type { Axis } from "../figure/scale.ts";
import { interpolate } from "../picture/axes.ts";
import type { LeafProps } from "../leaf-props.ts";
import { linesAt } from "../words/reading-at.ts";
import { nanometres, significant } from "../words/number.ts";
import type { Sight } from "../worker/protocol.ts";
import { Blurs } from "./blurs.tsx";
import { groupVelocity, powersOfTen } from "./shapes.ts";
import "./curves.css";

interface Drawn {
  readonly title: string;
  readonly summary: string;
  readonly axis: Axis;
  readonly series: readonly Series[];
  readonly zero: boolean;
}

export default function Curves(props: LeafProps) {
  return (
    <When when={props.sights.sight()} fallback={<p class="waiting">The curves follow the picture…</p>}>
      {(sight) => (
        <div class="curves">
          <Stack sight={sight()} {...props} />
          <Blurs sight={sight()} store={props.store} />
        </div>
      )}
    </When>
  );
}

function Stack(props: LeafProps & { readonly sight: Sight }) {
  const curve = () => props.sight.curve;
  const medium = () => props.store.bench().view.wavelengths;
  const x = createMemo(() => wavelengthAxis(curve(), medium(), 10));
  const drawn = createMemo(() => drawnOf(props.sight));
  const cursor = () => {
    const at = props.store.bench().view.cursor;
    return at === null ? null : interpolate(curve().wavelength, x().x, at);
  };
  return (
    <div class="curve-stack">
      <For each={drawn()}>
        {(one, i) => (
          <div>
            <h3>{one.title}</h3>
            <Plot
              title={one.title}
              summary={one.summary}
              x={x().x}
              xAxis={x().axis}
              yAxis={one.axis}
              series={one.series}
              marks={
                i() === 0
                  ? props.sight.lines.map((line) => ({
                      x: interpolate(curve().wavelength, x().x, line.wavelength),
                      text: nanometres(line.wavelength, 2),
                    }))
                  : []
              }
              height={i() === drawn().length - 1 ? 178 : 150}
              zero={one.zero}
              bare={i() < drawn().length - 1}
              margin={{ left: 64, right: 8 }}
              cursor={cursor()}
              onCursor={(at) => props.store.look({ cursor: interpolate(x().x, curve().wavelength, at) })}
              readout={(at) => linesAt(curve(), at, medium()).join("; ")}
            />
          </div>
        )}
      </For>
    </div>
  );
}

function drawnOf(sight: Sight): readonly Drawn[] {
  const { curve, lines } = sight;
  const index = scaled(curve, curve.refractivity, "n \u2212 1", "", 4);
  const phase = scaled(
    curve,
    curve.phaseVelocity.map((v) => v - 1),
    "v/c \u2212 1",
    "",
    4,
  );
  const absorption = powersOfTen(curve.absorption);
  const group = groupVelocity(curve);
  const at = lines.map((line) => nanometres(line.wavelength)).join(" and ") || "no line in view";
  return [
    {
      title: "Index: how much slower than in a vacuum the waves' crests run",
      summary: `n − 1 of vapour and gas, steep at ${at}; it falls through each line, where hardly any light is left.`,
      axis: index.axis,
      series: [{ name: "n \u2212 1", y: index.y, ink: "blue" }],
      zero: true,
    },
    {
      title: "Absorption, on a scale of powers of ten",
      summary: `Share of light absorbed per metre, from 10 to the ${absorption.axis.from} to 10 to the ${absorption.axis.to} per metre, with a peak at ${at}.`,
      axis: absorption.axis,
      series: [{ name: "absorption", y: absorption.y, ink: "copper" }],
      zero: false,
    },
    {
      title: "Phase velocity: crests may outrun c where n < 1, and carry nothing",
      summary: `Phase velocity over c, less one; above zero on the blue side of ${at}, by at most ${significant(phase.axis.to, 2)} in units of ${phase.axis.unit || "one"}.`,
      axis: phase.axis,
      series: [{ name: "phase velocity", y: phase.y, ink: "blue" }],
      zero: true,
    },
    {
      title: "Group velocity: how fast a long pulse runs where the vapour is clear",
      summary: `Group velocity over c where at least a third of the light is left; near ${at} it falls to ${significant(group.least, 2)} c. Inside the gap it says nothing about a pulse and is not drawn.`,
      axis: group.axis,
      series: [{ name: "group velocity", y: group.y, ink: "ink" }],
      zero: false,
    },
  ];
}
