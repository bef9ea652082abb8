/** One day of heating: clock, next setting, chart, readings. */
import { createMemo, createSignal, createUniqueId, For, onCleanup, Show as When } from "solid-js";
import { heatAt } from "../../plan/heat-curve.ts";
import { Plot } from "../figure/plot.tsx";
import { saveFile } from "../measure/save-file.ts";
import { createKept, isRecord } from "../planning/kept.ts";
import type { Answers } from "../planning/protocol.ts";
import { LoggerFile } from "./logger-file.tsx";
import { added, chartOf, type Day, logCsv, NO_DAY, type Reading, standing } from "./log.ts";
import { ReadingForm } from "./reading-form.tsx";
import { celsius, clock, minutes } from "./words.ts";
import { Wide } from "../planning/wide.tsx";

export function HeatDay(props: { readonly answer: Answers["heat"]; readonly storage: Storage | undefined }) {
  const { plan, setup, stopNow, tooHot } = props.answer;
  const kept = createKept<Day>(props.storage, "heat", setup, NO_DAY, dayFrom);
  const day = kept.value;
  const [now, setNow] = createSignal(Date.now());
  const ticking = setInterval(() => setNow(Date.now()), 1000);
  onCleanup(() => clearInterval(ticking));
  const id = createUniqueId();

  /** s since the heater went on; 0 before */
  const elapsed = () => Math.max(0, (now() - (day().heaterOn ?? now())) / 1000);
  const offAt = createMemo(() => {
    const { heaterOn, heaterOff } = day();
    return heaterOn === null || heaterOff === null ? null : (heaterOff - heaterOn) / 1000;
  });
  // The whole day on one axis: warm-up until the heater is off, then the cool-down laid behind it.
  const curve = createMemo(() => {
    const end = offAt();
    if (end === null) return plan.warm;
    const upTo = plan.warm.time.filter((time) => time < end).length;
    const join = (part: "bottom" | "top" | "ends" | "power") => [
      ...plan.warm[part].slice(0, upTo),
      ...plan.cool[part].filter((_, i) => fromHere(i)),
    ];
    // Cooling begins where the metal stands, not where it would have come to rest.
    const stands = heatAt(plan.warm, end).bottom;
    const first = Math.max(
      0,
      plan.cool.bottom.findIndex((each) => each <= stands),
    );
    const fromHere = (i: number): boolean => i >= first;
    const shift = end - (plan.cool.time[first] ?? 0);
    return {
      time: [
        ...plan.warm.time.slice(0, upTo),
        ...plan.cool.time.filter((_, i) => fromHere(i)).map((t) => t + shift),
      ],
      bottom: join("bottom"),
      top: join("top"),
      ends: join("ends"),
      power: join("power"),
    };
  });
  const foreseen = (time: number) => heatAt(curve(), time);
  const chart = createMemo(() => chartOf(curve(), day().readings));
  const stands = createMemo(() => standing(day().readings, foreseen, tooHot));
  const next = () => plan.settings.find(({ from }) => from > elapsed());
  const set = () => [...plan.settings].reverse().find(({ from }) => from <= elapsed());
  const write = (more: readonly Reading[]): void => kept.put({ readings: added(day().readings, more) });
  const [line, setLine] = createSignal<number | null>(null);

  return (
    <>
      <p>{plan.sentence}</p>
      <section class="clock" aria-labelledby={`${id}-clock`}>
        <h3 id={`${id}-clock`}>Clock</h3>
        <p class="time" role="timer" aria-label="since the heater went on">
          {day().heaterOn === null ? "heater off" : clock(elapsed())}
        </p>
        <p>
          {day().heaterOn === null
            ? plan.ready === null
              ? "The tube does not come to rest within twelve hours."
              : `Ready ${minutes(plan.ready)} after the heater goes on.`
            : offAt() !== null
              ? `Heater off since ${clock(elapsed() - (offAt() ?? 0))}; the metal should now be at ${celsius(foreseen(elapsed()).bottom)}${plan.cold === null ? "" : `, below 50\u202f°C about ${minutes(plan.cold)} after the heater went off, later with what the lagging holds`}.`
              : `The metal should now be at ${celsius(foreseen(elapsed()).bottom)}, the top at ${celsius(foreseen(elapsed()).top)}. ${setWords(set()?.power)}${nextWords(next(), elapsed())}`}
        </p>
        <p class="deeds">
          <When
            when={day().heaterOn !== null}
            fallback={
              <button
                type="button"
                class="word strong"
                onClick={() => kept.put({ heaterOn: Date.now(), heaterOff: null })}
              >
                the heater is on now
              </button>
            }
          >
            <When when={day().heaterOff === null}>
              <button type="button" class="word strong" onClick={() => kept.put({ heaterOff: Date.now() })}>
                the heater is off now
              </button>
            </When>
            <button type="button" class="word" onClick={() => kept.put(NO_DAY)}>
              begin a new day
            </button>
          </When>
        </p>
        <When when={stands()}>
          {(said) => (
            <p class={`finding-line ${said().level}`} role="status">
              <strong>{said().level}</strong> {said().sentence}
            </p>
          )}
        </When>
      </section>

      <section aria-labelledby={`${id}-chart`}>
        <h3 id={`${id}-chart`}>Warm-up, foretold and logged</h3>
        <Plot
          title="Temperatures over the day"
          summary={`The metal is foretold to reach ${celsius(plan.target.bottom)}, the top ${celsius(plan.target.top)}${plan.ready === null ? "" : ` after ${minutes(plan.ready)}`}. ${day().readings.length} readings are logged.`}
          x={chart().x}
          xAxis={{
            label: "after the heater went on",
            unit: "min",
            from: 0,
            to: Math.max(1, chart().x.at(-1) ?? 1),
          }}
          yAxis={{ label: "temperature", unit: "°C", from: 0, to: 1.06 * chart().highest }}
          series={[
            { name: "metal, foretold", y: chart().bottom, ink: "copper", dashed: true },
            { name: "top, foretold", y: chart().top, ink: "blue", dashed: true },
            { name: "metal, logged", y: chart().logBottom, ink: "copper" },
            { name: "top, logged", y: chart().logTop, ink: "blue" },
          ]}
          marks={[
            ...(plan.ready === null || offAt() !== null ? [] : [{ x: plan.ready / 60, text: "ready" }]),
            ...(offAt() === null ? [] : [{ x: (offAt() ?? 0) / 60, text: "heater off" }]),
          ]}
          height={260}
          cursor={line()}
          onCursor={setLine}
          readout={(i) => readout(chart(), i)}
        />
        <p class="legend quiet">
          <span class="key-copper">metal</span> <span class="key-blue">top</span>{" "}
          <span>broken: foretold; whole: logged; the metal is the hotter pair</span>
        </p>
        <p class="mono" role="status">
          {line() === null ? "" : readout(chart(), nearest(chart().x, line() ?? 0))}
        </p>
      </section>

      <When when={plan.settings.length > 0}>
        <section aria-labelledby={`${id}-schedule`}>
          <h3 id={`${id}-schedule`}>Schedule</h3>
          <table>
            <caption class="unseen">What to set at the heater</caption>
            <thead>
              <tr>
                <For each={["from minute", "set", "metal then", "top then"]}>
                  {(name) => <th scope="col">{name}</th>}
                </For>
              </tr>
            </thead>
            <tbody>
              <For each={plan.settings}>
                {({ from, power }) => (
                  <tr
                    aria-current={
                      set()?.from === from && day().heaterOn !== null && offAt() === null ? "step" : undefined
                    }
                  >
                    <th scope="row">{Math.round(from / 60)}</th>
                    <td>{`${Math.round(power)}\u202fW`}</td>
                    <td>{celsius(heatAt(plan.warm, from).bottom)}</td>
                    <td>{celsius(heatAt(plan.warm, from).top)}</td>
                  </tr>
                )}
              </For>
            </tbody>
          </table>
        </section>
      </When>

      <section aria-labelledby={`${id}-log`}>
        <h3 id={`${id}-log`}>Log</h3>
        <ReadingForm minute={elapsed() / 60} onWrite={(reading) => write([reading])} />
        <LoggerFile onTake={write} />
        <When when={day().readings.length > 0}>
          <p class="deeds">
            <button
              type="button"
              class="word"
              onClick={() =>
                saveFile(new Blob([logCsv(day().readings)], { type: "text/csv" }), "heat-log.csv")
              }
            >
              save the log
            </button>
            <button type="button" class="word" onClick={() => kept.put({ readings: [] })}>
              clear the log
            </button>
          </p>
          <Wide label="Readings" class="log-table">
            <table>
              <caption class="unseen">Readings</caption>
              <thead>
                <tr>
                  <For each={["minute", "metal", "top", "window", "note"]}>
                    {(name) => <th scope="col">{name}</th>}
                  </For>
                </tr>
              </thead>
              <tbody>
                <For each={[...day().readings].reverse()}>
                  {({ time, bottom, top, ends, note }) => (
                    <tr>
                      <th scope="row">{(time / 60).toFixed(1)}</th>
                      <td>{bottom === null ? "" : celsius(bottom)}</td>
                      <td>{top === null ? "" : celsius(top)}</td>
                      <td>{ends === null ? "" : celsius(ends)}</td>
                      <td class="words">{note}</td>
                    </tr>
                  )}
                </For>
              </tbody>
            </table>
          </Wide>
        </When>
      </section>

      <section aria-labelledby={`${id}-stop`}>
        <h3 id={`${id}-stop`}>Stop at once if</h3>
        <ul class="grave">
          <For each={stopNow}>{(text) => <li>{text}</li>}</For>
        </ul>
      </section>
    </>
  );
}

function setWords(power: number | undefined): string {
  return power === undefined ? "" : `Set ${Math.round(power)}\u202fW. `;
}

function nextWords(
  next: { readonly from: number; readonly power: number } | undefined,
  elapsed: number,
): string {
  return next === undefined
    ? "Nothing more to set: wait until it stands still for ten minutes."
    : `Next ${Math.round(next.power)}\u202fW in ${clock(next.from - elapsed)}.`;
}

function nearest(values: readonly number[], target: number): number {
  let best = 0;
  values.forEach((value, i) => {
    if (Math.abs(value - target) < Math.abs((values[best] ?? 0) - target)) best = i;
  });
  return best;
}

function readout(chart: ReturnType<typeof chartOf>, i: number): string {
  const told = (values: readonly number[]): string => {
    const value = values[i] ?? Number.NaN;
    return Number.isNaN(value) ? "none" : `${Math.round(value)}\u202f°C`;
  };
  return `minute ${Math.round(chart.x[i] ?? 0)}: metal foretold ${told(chart.bottom)}, logged ${told(chart.logBottom)}; top foretold ${told(chart.top)}, logged ${told(chart.logTop)}`;
}

function dayFrom(json: unknown): Day | undefined {
  if (!isRecord(json) || !Array.isArray(json["readings"])) return undefined;
  const moment = (value: unknown): number | null => (typeof value === "number" ? value : null);
  return {
    heaterOn: moment(json["heaterOn"]),
    heaterOff: moment(json["heaterOff"]),
    readings: json["readings"].flatMap((each: unknown): Reading[] =>
      isRecord(each) && typeof each["time"] === "number"
        ? [
            {
              time: each["time"],
              bottom: moment(each["bottom"]),
              top: moment(each["top"]),
              ends: moment(each["ends"]),
              note: typeof each["note"] === "string" ? each["note"] : "",
            },
          ]
        : [],
    ),
  };
}
