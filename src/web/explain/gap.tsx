/** Why the curve breaks: the whole bend dashed, and solid where the light left is above a threshold. */
import { createMemo, createSignal } from "solid-js";
import { wavelengthAxis } from "../figure/curves.ts";
import { Plot } from "../figure/plot.tsx";
import { bend, percent } from "../words/number.ts";
import type { ViewProps } from "./view-props.ts";
import { Slider } from "./slider.tsx";
import { WORDS } from "./words.en.ts";

const SAY = WORDS.gap;

export function Gap(props: ViewProps) {
  const [threshold, setThreshold] = createSignal(0.1);
  const x = createMemo(() => wavelengthAxis(props.sight.curve, props.store.bench().view.wavelengths, 8));
  const seen = createMemo(() => {
    const { deflection, transmission } = props.sight.curve;
    const mrad = deflection.map((rad) => rad * 1e3);
    let highest = 0;
    let hidden = 0;
    const lit = mrad.map((value, i) => {
      if (transmission[i] < threshold()) {
        const { wavelength } = props.sight.curve;
        hidden += (wavelength[Math.min(i + 1, wavelength.length - 1)] - wavelength[Math.max(i - 1, 0)]) / 2;
        return Number.NaN;
      }
      highest = Math.max(highest, Math.abs(value));
      return value;
    });
    return { mrad, lit, highest, hidden };
  });
  const reach = () => Math.max(1e-3, 2.2 * seen().highest);
  const whole = () => {
    const { wavelength } = props.sight.curve;
    return (wavelength.at(-1) ?? 1) - (wavelength[0] ?? 0);
  };
  return (
    <>
      <Slider
        label={SAY.threshold}
        from={0.005}
        to={0.9}
        at={threshold()}
        words={percent(threshold())}
        onMove={setThreshold}
      />
      <Plot
        title={WORDS.views.gap}
        summary={SAY.says(percent(seen().hidden / whole()), bend(seen().highest / 1e3))}
        x={x().x}
        xAxis={x().axis}
        yAxis={{ label: "bend up", unit: "mrad", from: -reach(), to: reach(), ticks: 6 }}
        rightAxis={{ label: "light left", unit: "", from: 0, to: 1.02, ticks: 2 }}
        series={[
          { name: "light left", y: props.sight.curve.transmission, ink: "copper", right: true },
          { name: SAY.hidden, y: seen().mrad, ink: "blue", dashed: true },
          { name: SAY.shown, y: seen().lit, ink: "ink" },
        ]}
        height={300}
        zero
      />
      <p role="status">{SAY.says(percent(seen().hidden / whole()), bend(seen().highest / 1e3))}</p>
    </>
  );
}
