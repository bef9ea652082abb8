/** Why the curve breaks: the whole bend dashed, and solid where the light left is above a threshold. */
import { createMemo, createSignal } from "solid-js";
import { wavelengthAxis } from "../figure/curves.ts";
import { Plot } from "../figure/plot.tsx";
import type { ViewProps } from "./view-props.ts";
import { between } from "./motion.ts";
import { Slider } from "./slider.tsx";
import { useTongue } from "./tongue.ts";

export function Gap(props: ViewProps) {
  const tongue = useTongue();
  const words = () => tongue().words;
  const say = () => words().gap;
  const percent = (share: number): string => tongue().numbers.percent(share);
  const [threshold, setThreshold] = createSignal(0.1);
  const x = createMemo(() => {
    const counted = props.store.bench().view.wavelengths;
    const { x: at, axis } = wavelengthAxis(props.sight.curve, counted, 8);
    const unit = counted === "air" ? words().nmAir : words().nmVacuum;
    return { x: at, axis: { ...axis, label: words().wavelength, unit } };
  });
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
  props.moving(() => {
    const before = threshold();
    return {
      show: (share) => setThreshold(between(0.9, 0.005, share)),
      end: () => setThreshold(before),
    };
  });
  const told = () => {
    const { hidden, highest } = seen();
    return say().says(percent(hidden / whole()), `${tongue().numbers.fixed(highest, 2)}\u202fmrad`);
  };
  return (
    <>
      <Slider
        label={say().threshold}
        from={0.005}
        to={0.9}
        at={threshold()}
        words={percent(threshold())}
        onMove={setThreshold}
      />
      <Plot
        title={words().views.gap}
        summary={told()}
        x={x().x}
        xAxis={x().axis}
        yAxis={{ label: words().bendUp, unit: "mrad", from: -reach(), to: reach(), ticks: 6 }}
        rightAxis={{ label: words().lightLeft, unit: "", from: 0, to: 1.02, ticks: 2 }}
        series={[
          { name: words().lightLeft, y: props.sight.curve.transmission, ink: "copper", right: true },
          { name: say().hidden, y: seen().mrad, ink: "blue", dashed: true },
          { name: say().shown, y: seen().lit, ink: "ink" },
        ]}
        height={300}
        write={(text) => tongue().tick(text)}
        zero
      />
      <p class="quiet legend">
        <span class="key-ink">{say().shown}</span> <span class="key-blue">{say().hidden}</span>{" "}
        <span class="key-copper">{words().lightLeft}</span>
      </p>
      <p role="status">{told()}</p>
    </>
  );
}
