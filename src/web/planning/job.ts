/** One question to a worker of its own, with its progress; asking again or cancelling ends the one under way. */
import { type Accessor, createSignal, onCleanup } from "solid-js";
import type { Answers, Ask, Progress, Told } from "./protocol.ts";

export interface Job<T extends Ask["task"]> {
  ask(question: Extract<Ask, { task: T }>): void;
  cancel(): void;
  readonly busy: Accessor<boolean>;
  readonly progress: Accessor<Progress | undefined>;
  /** of the last question that was answered */
  readonly answer: Accessor<Answers[T] | undefined>;
  /** why the last question has no answer */
  readonly troubles: Accessor<readonly string[]>;
}

export function createJob<T extends Ask["task"]>(): Job<T> {
  const [busy, setBusy] = createSignal(false);
  const [progress, setProgress] = createSignal<Progress>();
  const [answer, setAnswer] = createSignal<{ readonly held: Answers[T] }>();
  const [troubles, setTroubles] = createSignal<readonly string[]>([]);
  let worker: Worker | undefined;

  const end = (): void => {
    worker?.terminate();
    worker = undefined;
    setBusy(false);
    setProgress(undefined);
  };
  const fail = (sentence: string): void => {
    end();
    setTroubles([sentence]);
  };
  onCleanup(end);
  return {
    ask(question) {
      end();
      setTroubles([]);
      setBusy(true);
      worker = new Worker(new URL("./plan-worker.ts", import.meta.url), { type: "module", name: "planning" });
      worker.onmessage = (event: MessageEvent<Told<Extract<Ask, { task: T }>>>) => {
        const told = event.data;
        if ("progress" in told) setProgress(told.progress);
        else {
          end();
          if ("answer" in told) setAnswer({ held: told.answer });
          else setTroubles(told.sentences);
        }
      };
      worker.onerror = (event) =>
        fail(`The computation stopped: ${event.message || "its program could not be loaded"}.`);
      worker.onmessageerror = () => fail("The computation's answer could not be understood.");
      worker.postMessage(question);
    },
    cancel: end,
    busy,
    progress,
    answer: () => answer()?.held,
    troubles,
  };
}
