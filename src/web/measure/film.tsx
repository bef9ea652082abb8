/** A recorded film measured frame by frame, with the two columns over time and the table as a file. */
import { createMemo, createSignal, For, onCleanup, Show as When } from "solid-js";
import { Plot } from "../figure/plot.tsx";
import { powerOf } from "../figure/scale.ts";
import type { BenchStore } from "../state/store.ts";
import { newestWins, type Post } from "../worker/client.ts";
import type { Outcome } from "../worker/protocol.ts";
import { saveFile } from "./save-file.ts";
import { filmTable } from "./film-table.ts";
import type { Measuring } from "./measuring.ts";
import type { FilmAnswer, FilmFrame, FilmRequest } from "./protocol.ts";
import { rangeOf } from "./range.ts";

/** Frames in one answer: few enough that the page hears of them about once a second. */
const AT_ONCE = 2;

export function Film(props: {
  readonly store: BenchStore;
  readonly measuring: Measuring;
  readonly startReader: () => Post;
}) {
  const { photographs } = props.measuring;
  const [frames, setFrames] = createSignal<readonly FilmFrame[]>([]);
  const [every, setEvery] = createSignal(10);
  const [running, setRunning] = createSignal<number>();
  const [said, setSaid] = createSignal("");
  const client = newestWins<FilmRequest>(props.startReader);
  let lastKey = 0;
  onCleanup(() => client.close());

  const ask = (film: File, key: number): void => {
    const marks = props.measuring.marks();
    client.ask(
      {
        task: "film",
        setup: props.store.bench().setup,
        film,
        key,
        ...props.measuring.others(),
        ...(marks === undefined ? {} : { marks }),
        every: every(),
        count: AT_ONCE,
      },
      (done: Outcome<FilmAnswer>) => {
        if (running() !== key) return;
        if (done.outcome !== "done") {
          setRunning(undefined);
          setSaid(done.outcome === "refused" ? done.sentences.join(" ") : done.sentence);
          return;
        }
        const { answer } = done;
        setFrames((was) => [...was, ...answer.frames]);
        const last = frames().at(-1)?.time ?? 0;
        setSaid(
          answer.ended
            ? `${frames().length} frames read.`
            : `${frames().length} frames read, ${last.toFixed(1)} of ${answer.duration.toFixed(1)} s.`,
        );
        if (answer.ended) setRunning(undefined);
        else ask(film, key);
      },
    );
  };
  const start = (film: File): void => {
    lastKey += 1;
    setFrames([]);
    setRunning(lastKey);
    setSaid("opening the film…");
    ask(film, lastKey);
  };
  const read = createMemo(() =>
    frames().filter((frame) => frame.columnGradient !== null && frame.columnDensity !== null),
  );
  return (
    <section class="film" aria-label="Film">
      <h3>A film</h3>
      <p class="quiet">
        WebM, MP4, MOV or Matroska, as far as this browser can decode it, or uncompressed (.y4m). Cold, lamp
        and dark frames above, and what is marked by hand on the hot picture, serve all of it. Its brightness
        is read as it is stored.
      </p>
      <div class="read-row">
        <label class="file-choice">
          <span class="word">{photographs.film()?.name ?? "choose a film"}</span>
          <input
            type="file"
            class="unseen"
            accept=".webm,.mp4,.m4v,.mov,.mkv,.y4m"
            aria-label="film to be measured"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              if (file !== undefined) photographs.putAll([file]);
            }}
          />
        </label>
        <label for="film-every">one frame of</label>
        <input
          id="film-every"
          type="number"
          min="1"
          max="1000"
          value={every()}
          onChange={(event) => setEvery(Math.max(1, Math.round(Number(event.currentTarget.value) || 1)))}
        />
        <button
          type="button"
          class="word strong"
          disabled={photographs.film() === undefined && running() === undefined}
          onClick={() => {
            const film = photographs.film();
            if (running() !== undefined) setRunning(undefined);
            else if (film !== undefined) start(film);
          }}
        >
          {running() === undefined ? "measure the film" : "stop"}
        </button>
        <When when={frames().length > 0}>
          <button
            type="button"
            class="word"
            onClick={() =>
              saveFile(
                new Blob([filmTable(frames())], { type: "text/csv" }),
                `${photographs.film()?.name ?? "film"}.csv`,
              )
            }
          >
            save the table
          </button>
        </When>
      </div>
      <p role="status">{said()}</p>
      <When when={read().length > 1}>
        <div class="measure-row even">
          <Trend frames={read()} what="columnGradient" title="Column gradient over the film" unit="m⁻³" />
          <Trend frames={read()} what="columnDensity" title="Column density over the film" unit="m⁻²" />
        </div>
      </When>
      <For
        each={frames()
          .filter((frame) => frame.refused !== undefined)
          .slice(0, 3)}
      >
        {(frame) => <p class="quiet">{`At ${frame.time.toFixed(2)} s: ${frame.refused}`}</p>}
      </For>
      <When when={frames().length > 0}>
        <details>
          <summary>the numbers</summary>
          <table class="film-table">
            <thead>
              <tr>
                <th scope="col">s</th>
                <th scope="col">column gradient, m⁻³</th>
                <th scope="col">column density, m⁻²</th>
              </tr>
            </thead>
            <tbody>
              <For each={frames()}>
                {(frame) => (
                  <tr>
                    <td>{frame.time.toFixed(3)}</td>
                    <td>
                      <data value={frame.columnGradient?.value ?? ""}>
                        {frame.columnGradient?.value.toExponential(4) ?? "not read"}
                      </data>
                    </td>
                    <td>
                      <data value={frame.columnDensity?.value ?? ""}>
                        {frame.columnDensity?.value.toExponential(4) ?? "not read"}
                      </data>
                    </td>
                  </tr>
                )}
              </For>
            </tbody>
          </table>
        </details>
      </When>
    </section>
  );
}

function Trend(props: {
  readonly frames: readonly FilmFrame[];
  readonly what: "columnGradient" | "columnDensity";
  readonly title: string;
  readonly unit: string;
}) {
  const values = () => props.frames.map((frame) => frame[props.what]?.value ?? 0);
  const range = createMemo(() => rangeOf(values()));
  const power = () => powerOf(Math.max(Math.abs(range().from), Math.abs(range().to)));
  const scale = () => 10 ** -power();
  return (
    <Plot
      title={props.title}
      summary={`From ${(values()[0] ?? 0).toExponential(3)} to ${(values().at(-1) ?? 0).toExponential(3)} ${props.unit}.`}
      x={props.frames.map((frame) => frame.time)}
      xAxis={{
        label: "time",
        unit: "s",
        from: props.frames[0]?.time ?? 0,
        to: props.frames.at(-1)?.time ?? 1,
      }}
      yAxis={{
        label: props.title.split(" over ", 1)[0] ?? "",
        unit: power() === 0 ? props.unit : `10^${power()} ${props.unit}`,
        from: range().from * scale(),
        to: range().to * scale(),
      }}
      series={[{ name: props.what, y: values().map((value) => value * scale()), ink: "copper" }]}
      height={190}
    />
  );
}
