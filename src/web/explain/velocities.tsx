/** A pulse with a sharp front carried through the vapour of this setup at the colour of the line in the picture. */
import { createEffect, createMemo, createSignal, For, Show as When } from "solid-js";
import { Plot } from "../figure/plot.tsx";
import { nearestIndex } from "../figure/scale.ts";
import { minus, nanometres, percent, significant } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import type { ViewProps } from "./view-props.ts";
import { lineInView } from "./oscillator.tsx";
import { Slider } from "./slider.tsx";
import { WORDS } from "./words.en.ts";

const SAY = WORDS.velocities;
const SHORTEST = 2e-12;
const LONGEST = 200e-12;

export function Velocities(props: ViewProps) {
  const [duration, setDuration] = createSignal(20e-12);
  const line = createMemo(() => lineInView(props));
  const from = () => props.sight.curve.wavelength[0] ?? 0;
  const to = () => props.sight.curve.wavelength.at(-1) ?? 1;
  const carrier = () => {
    const beside = (line()?.wavelength ?? (from() + to()) / 2) - 4e-10;
    return Math.min(to(), Math.max(from(), props.store.bench().view.cursor ?? beside));
  };
  const asked = createMemo(() => ({
    setup: props.store.bench().setup,
    carrier: carrier(),
    duration: duration(),
  }));
  createEffect(() => props.teacher.ask({ task: "pulse", ...asked() }));
  const velocity = (): readonly [string, string] => {
    const i = nearestIndex(props.sight.curve.wavelength, carrier());
    const phase = props.sight.curve.phaseVelocity[i] ?? 1;
    const index = props.sight.curve.groupIndex[i] ?? 1;
    return [
      `c (1 ${phase < 1 ? "\u2212" : "+"} ${significant(Math.abs(phase - 1), 2)})`,
      Math.abs(index) < 1e-3 ? "no speed of its own" : `${minus((1 / index).toPrecision(3))} c`,
    ];
  };
  return (
    <>
      <Slider
        label={WORDS.slider}
        from={from()}
        to={to()}
        at={carrier()}
        words={`${nanometres(carrier(), 3)} vacuum`}
        onMove={(cursor) => props.store.look({ cursor })}
      />
      <Slider
        label={SAY.duration}
        from={Math.log(SHORTEST)}
        to={Math.log(LONGEST)}
        at={Math.log(duration())}
        words={`${significant(duration() * 1e12, 2)} ps`}
        onMove={(log) => setDuration(Math.exp(log))}
      />
      <When when={props.teacher.pulse()} fallback={<p class="waiting">{SAY.busy}</p>}>
        {(pulse) => (
          <>
            <Plot
              title={WORDS.views.velocities}
              summary={SAY.marks(...velocity(), percent(pulse().aheadOfFront))}
              x={pulse().time.map((t) => t * 1e12)}
              xAxis={{
                label: SAY.time,
                unit: "ps",
                from: (pulse().time[0] ?? 0) * 1e12,
                to: (pulse().time.at(-1) ?? 1) * 1e12,
                ticks: 8,
              }}
              yAxis={{
                label: "intensity",
                unit: "",
                from: 0,
                to:
                  1.06 *
                  Math.max(
                    1,
                    pulse().after.reduce((most, value) => Math.max(most, value), 0),
                  ),
                ticks: 4,
              }}
              series={[
                { name: SAY.before, y: pulse().before, ink: "ink", dashed: true },
                { name: SAY.after, y: pulse().after, ink: "copper" },
              ]}
              marks={[{ x: 0, text: "front at c" }]}
              height={260}
            />
            <p class="quiet legend">
              <span class="key-dashed">{SAY.before}</span> <span class="key-copper">{SAY.after}</span>
            </p>
            <p role="status">
              <Text of={SAY.marks(...velocity(), significant(pulse().aheadOfFront, 2))} />
            </p>
            <For each={pulse().statements}>{(statement) => <p class="quiet">{statement}</p>}</For>
          </>
        )}
      </When>
    </>
  );
}
