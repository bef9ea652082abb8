/** Gradient and column density of the run, beside what the setup foretells. */
import { createMemo, createSignal, onCleanup } from "solid-js";
import { Plot } from "../figure/plot.tsx";
import { nearestIndex, powerOf } from "../figure/scale.ts";
import type { WarmUpAnswer, WarmUpRequest } from "../measure/protocol.ts";
import { rangeOf } from "../measure/range.ts";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import type { Sight } from "../worker/protocol.ts";
import type { History } from "./history.ts";

export interface TrendsProps {
  readonly history: History;
  readonly sight: Sight | undefined;
  readonly setup: SetupText;
  readonly startReader: () => Post;
}

export function Trends(props: TrendsProps) {
  const client = newestWins<WarmUpRequest>(props.startReader);
  const [foretold, setForetold] = createSignal<WarmUpAnswer>();
  const [said, setSaid] = createSignal("");
  /** when the heater was switched on, s of the run's clock */
  const [switchedOn, setSwitchedOn] = createSignal<number>();
  onCleanup(() => client.close());
  const heat = (): void => {
    setSwitchedOn(props.history.rows.at(-1)?.time);
    setSaid("The predicted warm-up is being computed…");
    client.ask({ task: "warm-up", setup: props.setup }, (done) => {
      if (done.outcome !== "done") {
        setSaid(done.outcome === "refused" ? done.sentences.join(" ") : done.sentence);
        return;
      }
      setForetold(done.answer);
      setSaid(
        done.answer.time.length === 0
          ? "This setup gives wall temperatures, not a heater: the dashed line is its steady state. Give the heater's power to see a warm-up."
          : "The dashed line is the predicted warm-up from the moment that you said.",
      );
    });
  };
  return (
    <section class="trends" aria-label="Trends">
      <div class="measure-row even">
        <Trend
          {...props}
          what="columnGradient"
          title="column gradient"
          unit="m⁻³"
          foretold={foretold()}
          on={switchedOn()}
        />
        <Trend
          {...props}
          what="columnDensity"
          title="column density"
          unit="m⁻²"
          foretold={foretold()}
          on={switchedOn()}
        />
      </div>
      <p class="quiet">Solid: read from the camera. Dashed: foretold by the open setup.</p>
      <p role="status">
        <button type="button" class="word" onClick={heat}>
          the heater is switched on now
        </button>{" "}
        {said()}
      </p>
    </section>
  );
}

function Trend(
  props: TrendsProps & {
    readonly what: "columnGradient" | "columnDensity";
    readonly title: string;
    readonly unit: string;
    readonly foretold: WarmUpAnswer | undefined;
    readonly on: number | undefined;
  },
) {
  const rows = () => props.history.rows;
  const began = () => rows()[0]?.time ?? 0;
  const read = createMemo(() => rows().map((row) => row[props.what]));
  const expected = createMemo(() => {
    const { foretold, on } = props;
    const steady = props.sight?.[props.what];
    return rows().map(({ time }) => {
      if (foretold === undefined || on === undefined || foretold.time.length === 0)
        return steady ?? Number.NaN;
      return foretold[props.what][nearestIndex(foretold.time, time - on)];
    });
  });
  /** Seconds for a run of less than two minutes. */
  const clock = () => ((rows().at(-1)?.time ?? 0) - began() < 120 ? 1 : 60);
  const range = createMemo(() =>
    rangeOf([...read(), ...expected()].filter((value) => Number.isFinite(value))),
  );
  const power = () => powerOf(Math.max(Math.abs(range().from), Math.abs(range().to)));
  const scaled = (values: readonly number[]): number[] => values.map((value) => value * 10 ** -power());
  return (
    <Plot
      title={`Live ${props.title}`}
      summary={`Last reading ${(read().at(-1) ?? 0).toExponential(3)} ${props.unit}, foretold ${(expected().at(-1) ?? 0).toExponential(3)} ${props.unit}.`}
      x={rows().map(({ time }) => (time - began()) / clock())}
      xAxis={{
        label: "time",
        unit: clock() === 1 ? "s" : "min",
        from: 0,
        to: Math.max(1e-3, ((rows().at(-1)?.time ?? 1) - began()) / clock()),
      }}
      yAxis={{
        label: props.title,
        unit: power() === 0 ? props.unit : `10^${power()} ${props.unit}`,
        from: range().from * 10 ** -power(),
        to: range().to * 10 ** -power(),
      }}
      series={[
        { name: "read", y: scaled(read()), ink: "copper" },
        { name: "foretold", y: scaled(expected()), ink: "blue", dashed: true },
      ]}
      height={190}
    />
  );
}
