/** Cold to hot: the curve of this setup at rising temperatures of its metal, each its own forecast. */
import { createEffect, createMemo, createSignal, Index, onCleanup } from "solid-js";
import { createWidth } from "../figure/size.ts";
import { fieldAt } from "../../setup/fields.ts";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import { pathOf, ticksOf } from "../figure/scale.ts";
import { shownOf } from "../state/sight.ts";
import { valueAt, withValue } from "../state/setup-text.ts";
import { newestWins } from "../worker/client.ts";
import type { ForeseeRequest, Sight } from "../worker/protocol.ts";
import type { ViewProps } from "./view-props.ts";
import { useTongue } from "./tongue.ts";

const CURVES = 9;
/** K below the setup's own temperature at which the series begins. */
const BELOW = 120;
const HEIGHT = 280;
const LEFT = 56;
/** Height of the heading over the upper end of the axis. */
const TOP = 22;
const FIELD = "vessel.bottom";

interface Warm {
  /** K */
  readonly temperature: number;
  readonly sight: Sight;
}

export function Warming(props: ViewProps) {
  const tongue = useTongue();
  const say = () => tongue().words.warming;
  const celsius = ({ temperature }: Warm): string => tongue().numbers.fixed(temperature - 273.15, 0);
  const steps = (): string => say().steps(tongue().numbers.fixed(curves().length, 0));
  const { width, measure } = createWidth(760);
  const [curves, setCurves] = createSignal<readonly Warm[]>([]);
  const foresight = newestWins<ForeseeRequest>(props.startForesight);
  onCleanup(() => foresight.close());
  const setup = createMemo(() => props.store.bench().setup);
  /** curves drawn while a film is made */
  const [drawn, setDrawn] = createSignal<number>();
  createEffect(() => {
    if (curves().length === CURVES)
      props.moving(() => ({
        show: (share) => setDrawn(1 + Math.floor(share * (CURVES - 1))),
        end: () => setDrawn(undefined),
      }));
  });
  let run = 0;
  createEffect(() => {
    const text = setup();
    const hot = temperatureOf(String(valueAt(text, FIELD) ?? "")) ?? props.sight.setup.vessel.wall.bottom;
    run += 1;
    const mine = run;
    setCurves([]);
    const ask = (i: number): void => {
      if (i >= CURVES || mine !== run) return;
      const temperature = hot - BELOW + (BELOW * i) / (CURVES - 1);
      foresight.ask(
        {
          task: "foresee",
          setup: withValue(text, FIELD, `${temperature.toFixed(2)} K`),
          ...shownOf(props.store.bench().view),
          show: "hot",
          tints: false,
          minute: null,
          red: false,
          precision: "coarse",
          wanted: "all",
        },
        (outcome) => {
          const sight = outcome.outcome === "done" ? outcome.answer.sight : undefined;
          if (sight !== undefined && mine === run) setCurves((was) => [...was, { temperature, sight }]);
          ask(i + 1);
        },
      );
    };
    ask(0);
  });

  const reach = createMemo(() => {
    let most = 1e-6;
    for (const { sight } of curves())
      sight.curve.deflection.forEach((rad, i) => {
        if ((sight.curve.transmission[i] ?? 0) > 0.1) most = Math.max(most, Math.abs(rad));
      });
    return 1.15 * most * 1e3;
  });
  const x = (nm: number): number => {
    const { wavelength } = props.sight.curve;
    const [from, to] = [(wavelength[0] ?? 0) * 1e9, (wavelength.at(-1) ?? 1) * 1e9];
    return LEFT + ((nm - from) / (to - from)) * (width() - LEFT - 10);
  };
  const y = (mrad: number): number => TOP + (0.5 - mrad / (2 * reach())) * (HEIGHT - 34 - TOP);
  const path = ({ sight: { curve } }: Warm): string =>
    pathOf(
      curve.wavelength.map((w) => w * 1e9),
      curve.deflection.map((rad, i) => ((curve.transmission[i] ?? 0) > 0.05 ? rad * 1e3 : Number.NaN)),
      x,
      y,
      { top: TOP, bottom: HEIGHT - 34 },
    );
  const axis = () => {
    const { wavelength } = props.sight.curve;
    return ticksOf({
      label: "",
      unit: "",
      from: (wavelength[0] ?? 0) * 1e9,
      to: (wavelength.at(-1) ?? 1) * 1e9,
      ticks: 8,
    });
  };
  return (
    <figure class="plot">
      <div ref={measure}>
        <svg
          width={width()}
          height={HEIGHT}
          role="img"
          aria-label={say().at(
            steps(),
            curves()
              .map((warm) => say().degrees(celsius(warm)))
              .join(", "),
          )}
        >
          <Index each={curves()}>
            {(warm, i) => (
              <path
                class="warm"
                opacity={i < (drawn() ?? CURVES) ? 0.2 + (0.8 * i) / (CURVES - 1) : 0}
                d={path(warm())}
              />
            )}
          </Index>
          <g class="axis">
            <Index each={axis()}>
              {(tick) => (
                <g transform={`translate(${x(tick().value)} ${HEIGHT - 34})`}>
                  <line class="tick" y2={4} />
                  <text y={16} text-anchor="middle">
                    {tongue().tick(tick().text)}
                  </text>
                </g>
              )}
            </Index>
            <Index each={ticksOf({ label: "", unit: "", from: -reach(), to: reach(), ticks: 6 })}>
              {(tick) => (
                <g transform={`translate(${LEFT} ${y(tick().value)})`}>
                  <line class="tick" x1={-4} />
                  <text x={-7} dy="0.32em" text-anchor="end">
                    {tongue().tick(tick().text)}
                  </text>
                </g>
              )}
            </Index>
            <text class="name" x={width() - 10} y={HEIGHT - 4} text-anchor="end">
              {say().across}
            </text>
            <text class="name" x={0} y={9}>
              {say().heading}
            </text>
          </g>
        </svg>
      </div>
      <figcaption>
        {steps()}{" "}
        {curves()
          .map((warm) => `${celsius(warm)}\u202f°C`)
          .join(" · ")}
      </figcaption>
    </figure>
  );
}

function temperatureOf(text: string): number | undefined {
  const field = fieldAt(FIELD);
  if (text === "" || field === undefined) return undefined;
  try {
    return parseQuantity(text, "K", FIELD);
  } catch (fault) {
    if (fault instanceof Refusal) return undefined;
    throw fault;
  }
}
