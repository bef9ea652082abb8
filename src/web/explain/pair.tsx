/** Two oscillators: the ratio of their strengths, and where they cancel. */
import { createMemo, createSignal, Show as When } from "solid-js";
import { Plot } from "../figure/plot.tsx";
import type { ViewProps } from "./view-props.ts";
import { cancellation, pairIndex } from "./model.ts";
import { between } from "./motion.ts";
import { Slider } from "./slider.tsx";
import { useTongue } from "./tongue.ts";

export function Pair(props: ViewProps) {
  const tongue = useTongue();
  const words = () => tongue().words;
  const say = () => words().pair;
  const own = (): string => {
    const zero = props.sight.zeroBetweenLines;
    return zero === null ? say().noZero : tongue().nm(zero, 3);
  };
  const pair = createMemo(() => {
    const { wavelength } = props.sight.curve;
    const [from, to] = [wavelength[0] ?? 0, wavelength.at(-1) ?? 0];
    const seen = (props.teacher.facts()?.lines ?? []).filter(
      (line) => line.wavelength > from && line.wavelength < to,
    );
    const [shorter, longer] = seen;
    return shorter === undefined || longer === undefined ? undefined : { shorter, longer };
  });
  return (
    <When when={pair()} fallback={<p>{say().none}</p>}>
      {(lines) => {
        const published = () => lines().shorter.strength / lines().longer.strength;
        const [chosen, setChosen] = createSignal<number>();
        props.moving(() => {
          const before = chosen();
          return {
            show: (share) => setChosen(Math.exp(between(Math.log(0.2), Math.log(20), share))),
            end: () => setChosen(before),
          };
        });
        const ratio = () => chosen() ?? published();
        const zero = () => cancellation(lines().shorter.wavelength, lines().longer.wavelength, ratio());
        const curve = createMemo(() => {
          const { wavelength } = props.sight.curve;
          const sum = pairIndex(wavelength, lines().shorter.wavelength, lines().longer.wavelength, [
            ratio() / (1 + ratio()),
            1 / (1 + ratio()),
          ]);
          // In units of the bend half a nanometre beside a line of strength one.
          const unit = (lines().longer.wavelength ** 3 / (2 * 0.5e-9)) * 1;
          // The pen is lifted at the lines, where two undamped oscillators run away to either side.
          const at = [lines().shorter.wavelength, lines().longer.wavelength];
          return sum.map((value, i) =>
            at.some((line) => wavelength[i] <= line && line < (wavelength[i + 1] ?? 0))
              ? Number.NaN
              : value / unit,
          );
        });
        return (
          <>
            <Slider
              label={say().ratio}
              from={Math.log(0.2)}
              to={Math.log(20)}
              at={Math.log(ratio())}
              words={`${tongue().numbers.text(ratio(), 3)} (${say().published(tongue().numbers.text(published(), 3))})`}
              onMove={(log) => setChosen(Math.exp(log))}
            />
            <Plot
              title={words().views.pair}
              summary={say().zero(tongue().nm(zero(), 3), own())}
              x={props.sight.curve.wavelength.map((w) => w * 1e9)}
              xAxis={{
                label: words().wavelength,
                unit: words().nmVacuum,
                from: (props.sight.curve.wavelength[0] ?? 0) * 1e9,
                to: (props.sight.curve.wavelength.at(-1) ?? 1) * 1e9,
                ticks: 8,
              }}
              yAxis={{ label: say().axis, unit: "", from: -1.5, to: 1.5, ticks: 6 }}
              series={[{ name: "n \u2212 1", y: curve(), ink: "blue" }]}
              marks={[{ x: zero() * 1e9, text: tongue().nm(zero(), 2) }]}
              height={260}
              write={(text) => tongue().tick(text)}
              zero
            />
            <p role="status">{say().zero(tongue().nm(zero(), 3), own())}</p>
          </>
        );
      }}
    </When>
  );
}
