/** The leaf of the warm-up: schedule, chart of forecast against thermocouples, timers, and the cool-down. */
import { createSignal, For, Show as When } from "solid-js";
import type { LeafProps } from "../leaf-props.ts";
import { createJob } from "../planning/job.ts";
import type { Answers } from "../planning/protocol.ts";
import { Running } from "../planning/running.tsx";
import { HeatDay } from "./day.tsx";
import { WakeLock } from "./wake-lock.tsx";
import "../planning/planning.css";
import "./heat.css";

export default function Heat(props: LeafProps) {
  const setup = () => props.store.bench().setup;
  const job = createJob<"heat">();
  const [reckonedFor, setReckonedFor] = createSignal<unknown>();
  const reckon = (): void => {
    setReckonedFor(setup());
    job.ask({ task: "heat", setup: setup() });
  };
  reckon();
  const grave = () => (props.sights.said()?.cautions ?? []).filter(({ level }) => level === "stop");
  return (
    <div class="heat planning" aria-busy={job.busy()}>
      <ul class="grave">
        <For each={grave()}>
          {(caution) => (
            <li>
              <strong>stop</strong> {caution.sentence}
            </li>
          )}
        </For>
      </ul>
      <WakeLock />
      <Running job={job} doing="reckoning the heat of the tube" />
      <When when={reckonedFor() !== setup() && !job.busy()}>
        <p class="deeds" role="status">
          <span>The bench has changed since this was reckoned.</span>
          <button type="button" class="word strong" onClick={reckon}>
            reckon it anew
          </button>
        </p>
      </When>
      <When when={job.answer()} keyed>
        {(answer: Answers["heat"]) => <HeatDay answer={answer} storage={props.storage} />}
      </When>
    </div>
  );
}
