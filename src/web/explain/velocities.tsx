/** A pulse with a sharp front carried through the vapour of this setup at the colour of the line in the picture. */
import { createEffect, createMemo, createSignal, For, Show as When } from "solid-js";
import { Plot } from "../figure/plot.tsx";
import { nearestIndex } from "../figure/scale.ts";
import { Text } from "../words/text.tsx";
import type { ViewProps } from "./view-props.ts";
import { lineInView } from "./oscillator.tsx";
import { between } from "./motion.ts";
import { Slider } from "./slider.tsx";
import { useTongue } from "./tongue.ts";

const SHORTEST = 2e-12;
const LONGEST = 200e-12;

export function Velocities(props: ViewProps) {
  const tongue = useTongue();
  const words = () => tongue().words;
  const say = () => words().velocities;
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
  // In the film the light arrives: what has not come yet is not drawn.
  const [until, setUntil] = createSignal<number>();
  const arrived = (y: Float64Array, time: Float64Array): Float64Array => {
    const end = until();
    return end === undefined ? y : y.map((value, i) => (time[i] <= end ? value : Number.NaN));
  };
  createEffect(() => {
    const time = props.teacher.pulse()?.time;
    if (time === undefined) return;
    props.moving(() => ({
      show: (share) => setUntil(between(time[0] ?? 0, time.at(-1) ?? 0, share)),
      end: () => setUntil(undefined),
    }));
  });
  const velocity = (): readonly [string, string] => {
    const i = nearestIndex(props.sight.curve.wavelength, carrier());
    const phase = props.sight.curve.phaseVelocity[i] ?? 1;
    const index = props.sight.curve.groupIndex[i] ?? 1;
    return [
      `c (1 ${phase < 1 ? "\u2212" : "+"} ${tongue().numbers.text(Math.abs(phase - 1), 2)})`,
      Math.abs(index) < 1e-3 ? say().noSpeed : `${tongue().numbers.text(1 / index, 3)} c`,
    ];
  };
  return (
    <>
      <Slider
        label={words().slider}
        from={from()}
        to={to()}
        at={carrier()}
        words={tongue().nmVacuum(carrier(), 3)}
        onMove={(cursor) => props.store.look({ cursor })}
      />
      <Slider
        label={say().duration}
        from={Math.log(SHORTEST)}
        to={Math.log(LONGEST)}
        at={Math.log(duration())}
        words={`${tongue().numbers.text(duration() * 1e12, 2)} ps`}
        onMove={(log) => setDuration(Math.exp(log))}
      />
      <When when={props.teacher.pulse()} fallback={<p class="waiting">{say().busy}</p>}>
        {(pulse) => (
          <>
            <Plot
              title={words().views.velocities}
              summary={say().marks(...velocity(), tongue().numbers.text(pulse().aheadOfFront, 2))}
              x={pulse().time.map((t) => t * 1e12)}
              xAxis={{
                label: say().time,
                unit: "ps",
                from: (pulse().time[0] ?? 0) * 1e12,
                to: (pulse().time.at(-1) ?? 1) * 1e12,
                ticks: 8,
              }}
              yAxis={{
                label: say().intensity,
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
                { name: say().before, y: arrived(pulse().before, pulse().time), ink: "ink", dashed: true },
                { name: say().after, y: arrived(pulse().after, pulse().time), ink: "copper" },
              ]}
              marks={[{ x: 0, text: say().front }]}
              height={260}
              write={(text) => tongue().tick(text)}
            />
            <p class="quiet legend">
              <span class="key-dashed">{say().before}</span> <span class="key-copper">{say().after}</span>
            </p>
            <p role="status">
              <Text of={say().marks(...velocity(), tongue().numbers.text(pulse().aheadOfFront, 2))} />
            </p>
            <For each={pulse().statements}>
              {(statement) => (
                <p class="quiet" lang="en">
                  {statement}
                </p>
              )}
            </For>
          </>
        )}
      </When>
    </>
  );
}
