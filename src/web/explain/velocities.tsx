/** A pulse with a sharp front carried through the vapour of this setup at the colour of the line in the picture. */
import { createEffect, createMemo, createSignal, For, Show as When } from "solid-js";
import { PULSE_SENTENCES, reteller } from "../../words/index.ts";
import type { Travelled } from "../../medium/index.ts";
import { Plot } from "../figure/plot.tsx";
import { nearestIndex } from "../figure/scale.ts";
import { Text } from "../words/text.tsx";
import type { ViewProps } from "./view-props.ts";
import { lineInView } from "./oscillator.tsx";
import { SPEED_OF_LIGHT } from "./model.ts";
import { between } from "./motion.ts";
import { Slider } from "./slider.tsx";
import { useTongue } from "./tongue.ts";
import { MARGIN, Travelling } from "./travelling.tsx";

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
  // How far a front at c has come, as a share of the vapour and the vacuum drawn around it.
  const [share, setShare] = createSignal(0.55);
  const came = (travel: Travelled): number => between(-MARGIN, 1 + MARGIN, share()) * travel.length;
  createEffect(() => {
    if (props.teacher.pulse() === undefined) return;
    props.moving(() => {
      const before = share();
      return { show: setShare, end: () => setShare(before) };
    });
  });
  const retell = createMemo(() => reteller(PULSE_SENTENCES, tongue().pulseSentences, tongue().numbers));
  const ps = (time: number): string => `${tongue().numbers.text(time * 1e12, 3)}\u202fps`;
  const delay = (time: number): string => (time < 0 ? say().earlier(ps(-time)) : say().later(ps(time)));
  /** Row of the table: 0 what enters, `steps` what leaves. */
  const row = ({ time, intensity }: Travelled, depth: number): Float64Array =>
    intensity.subarray(depth * time.length, (depth + 1) * time.length);
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
            <Slider
              label={say().moment}
              from={0}
              to={1}
              at={share()}
              words={say().since(
                `${tongue().numbers.fixed(came(pulse().travel) * 1e3, 0)}\u202fmm`,
                ps(came(pulse().travel) / SPEED_OF_LIGHT),
              )}
              onMove={setShare}
            />
            <Travelling
              travel={pulse().travel}
              time={came(pulse().travel) / SPEED_OF_LIGHT}
              duration={duration()}
            />
            <h3>{say().leaves}</h3>
            <Plot
              title={say().leaves}
              summary={say().marks(...velocity(), tongue().numbers.text(pulse().aheadOfFront, 2))}
              x={pulse().travel.time.map((t) => t * 1e12)}
              xAxis={{
                label: say().time,
                unit: "ps",
                from: (pulse().travel.time[0] ?? 0) * 1e12,
                to: (pulse().travel.time.at(-1) ?? 1) * 1e12,
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
                    row(pulse().travel, pulse().travel.steps).reduce(
                      (most, value) => Math.max(most, value),
                      0,
                    ),
                  ),
                ticks: 4,
              }}
              series={[
                { name: say().before, y: row(pulse().travel, 0), ink: "ink", dashed: true },
                { name: say().after, y: row(pulse().travel, pulse().travel.steps), ink: "copper" },
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
            <p>
              <Text
                of={say().delays(
                  delay(pulse().groupDelay),
                  delay(pulse().delay),
                  tongue().numbers.percent(pulse().energy),
                )}
              />
            </p>
            <For each={pulse().statements}>
              {(statement) => {
                const told = () => retell()(statement);
                return (
                  <p class="quiet" lang={told() === undefined ? "en" : undefined}>
                    <Text of={told() ?? statement} />
                  </p>
                );
              }}
            </For>
          </>
        )}
      </When>
    </>
  );
}
