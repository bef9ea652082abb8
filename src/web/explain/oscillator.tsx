/** One oscillator driven below, at and above resonance, and what its answer does to n, to the ray and to the picture. */
import { createMemo, createSignal, Index, Show as When } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import { scaled } from "../figure/curves.ts";
import { Plot } from "../figure/plot.tsx";
import { nearestIndex } from "../figure/scale.ts";
import type { ViewProps } from "./view-props.ts";
import { swingAt, widthInWavelength } from "./model.ts";
import { between } from "./motion.ts";
import type { LineFacts } from "./protocol.ts";
import { Slider } from "./slider.tsx";
import { useTongue } from "./tongue.ts";

const REACHES = ["across", "within"] as const;
/** Half-gaps, or widths of the line, to which the slider reaches either way. */
const REACH = { across: 4, within: 4 } as const;
/** Waves drawn, and points of each. */
const WAVES = 3;
const POINTS = 240;

export function Oscillator(props: ViewProps) {
  const tongue = useTongue();
  const words = () => tongue().words;
  const say = () => words().oscillator;
  const [reach, setReach] = createSignal<(typeof REACHES)[number]>("across");
  const line = createMemo(() => lineInView(props));
  const span = (of: LineFacts): number => {
    const half = props.sight.lines.find(
      ({ wavelength }) => Math.abs(wavelength - of.wavelength) < 1e-11,
    )?.halfGap;
    const width = widthInWavelength(of.wavelength, of.width);
    return REACH[reach()] * (reach() === "across" ? Math.max(half ?? 0, 20 * width) : width);
  };
  return (
    <When when={line()}>
      {(of) => {
        const at = () => {
          const cursor = props.store.bench().view.cursor ?? of().wavelength + 0.25 * span(of());
          return Math.min(of().wavelength + span(of()), Math.max(of().wavelength - span(of()), cursor));
        };
        props.moving(() => {
          const before = props.store.bench().view.cursor;
          return {
            show: (share) =>
              props.store.look({ cursor: of().wavelength + between(-1, 1, share) * span(of()) }),
            end: () => props.store.look({ cursor: before }),
          };
        });
        const swing = () => swingAt(at(), of().wavelength, of().width);
        const index = createMemo(() =>
          scaled(props.sight.curve, props.sight.curve.refractivity, "n \u2212 1", "", 4),
        );
        const nearest = () => nearestIndex(props.sight.curve.wavelength, at());
        const deflection = () => props.sight.curve.deflection[nearest()] ?? 0;
        return (
          <>
            <Choice
              label={say().scale}
              options={REACHES}
              value={reach()}
              words={{ across: say().across, within: say().within }}
              onChoose={setReach}
            />
            <Slider
              label={words().slider}
              from={of().wavelength - span(of())}
              to={of().wavelength + span(of())}
              at={at()}
              words={tongue().nmVacuum(at(), reach() === "within" ? 5 : 3)}
              onMove={(cursor) => props.store.look({ cursor })}
            />
            <Swinging amplitude={swing().amplitude} lag={swing().lag} />
            <p>
              {say().phase(
                tongue().numbers.fixed(swing().lag / (2 * Math.PI), 3),
                tongue().numbers.percent(swing().amplitude),
              )}
            </p>
            <h3>{say().index}</h3>
            <Plot
              title={say().index}
              summary={say().summary(tongue().nm(at(), 3))}
              x={props.sight.curve.wavelength.map((w) => w * 1e9)}
              xAxis={{
                label: words().wavelength,
                unit: words().nmVacuum,
                from: (of().wavelength - Math.max(span(of()), 1e-10)) * 1e9,
                to: (of().wavelength + Math.max(span(of()), 1e-10)) * 1e9,
                ticks: 6,
              }}
              yAxis={index().axis}
              rightAxis={{ label: words().lightLeft, unit: "", from: 0, to: 1.02, ticks: 2 }}
              series={[
                { name: words().lightLeft, y: props.sight.curve.transmission, ink: "copper", right: true },
                { name: "n \u2212 1", y: index().y, ink: "blue" },
              ]}
              height={190}
              write={(text) => tongue().tick(text)}
              zero
              cursor={at() * 1e9}
            />
            <Tube bend={deflection()} light={props.sight.curve.transmission[nearest()] ?? 0} />
            <p>
              {say().tube(tongue().bend(deflection()))} {say().picture}
            </p>
          </>
        );
      }}
    </When>
  );
}

/** The stronger line in the picture, with its width. */
export function lineInView(props: ViewProps): LineFacts | undefined {
  const facts = props.teacher.facts();
  const { wavelength } = props.sight.curve;
  const [from, to] = [wavelength[0] ?? 0, wavelength.at(-1) ?? 0];
  return facts?.lines
    .filter((line) => line.wavelength > from && line.wavelength < to)
    .sort((a, b) => b.strength - a.strength)[0];
}

function Swinging(props: { readonly amplitude: number; readonly lag: number }) {
  const tongue = useTongue();
  const say = () => tongue().words.oscillator;
  const wave = (size: number, lag: number): string =>
    Array.from({ length: POINTS + 1 }, (_, i) => {
      const turn = (i / POINTS) * WAVES * 2 * Math.PI;
      return `${i === 0 ? "M" : "L"}${(40 + (i / POINTS) * 520).toFixed(1)} ${(60 - size * 44 * Math.cos(turn - lag)).toFixed(1)}`;
    }).join("");
  /** Seen even where the answer is a thousandth: the square root of the amplitude is drawn, and said. */
  const size = () => Math.sqrt(props.amplitude);
  return (
    <figure>
      <svg
        class="swinging"
        viewBox="0 0 600 140"
        role="img"
        aria-label={say().swinging(tongue().numbers.fixed(props.lag / (2 * Math.PI), 2))}
      >
        <line class="axis-line" x1="40" x2="560" y1="60" y2="60" />
        <path class="drive" d={wave(1, 0)} />
        <path class="answer" d={wave(size(), props.lag)} />
        <text x="40" y="132" class="drive-word">
          {say().drive}
        </text>
        <text x="200" y="132" class="answer-word">
          {say().shrunk}
        </text>
        <text x="560" y="132" text-anchor="end">
          {say().time}
        </text>
      </svg>
    </figure>
  );
}

function Tube(props: { readonly bend: number; readonly light: number }) {
  const tongue = useTongue();
  /** Ten milliradians would leave the drawing: the bend is drawn by its square root, its way kept. */
  const rise = () => Math.sign(props.bend) * Math.min(50, 1500 * Math.sqrt(Math.abs(props.bend)) * 0.9);
  return (
    <svg
      class="little-tube"
      viewBox="0 0 600 130"
      role="img"
      aria-label={tongue().words.oscillator.tube(tongue().bend(props.bend))}
    >
      <Index each={[0, 1, 2, 3, 4, 5]}>
        {(i) => (
          <rect x="120" y={20 + i() * 15} width="300" height="15" class="layer" opacity={0.08 + 0.13 * i()} />
        )}
      </Index>
      <rect x="120" y="20" width="300" height="90" class="frame" />
      <line class="ray-in" x1="20" x2="120" y1="65" y2="65" />
      <path
        class="ray-out"
        opacity={Math.max(0.12, props.light)}
        d={`M120 65Q270 65 420 ${65 - rise() * 0.45}L590 ${65 - rise()}`}
      />
    </svg>
  );
}
