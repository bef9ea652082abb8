/** The page's side of the explaining worker: one question under way, the newest waiting, answers in signals. */
import { type Accessor, createSignal, onCleanup } from "solid-js";
import type { Facts, Pulse, Question, Reply } from "./protocol.ts";

type Asked = Question extends infer Q ? (Q extends Question ? Omit<Q, "id"> : never) : never;

export interface Teacher {
  readonly facts: Accessor<Facts | undefined>;
  readonly pulse: Accessor<Pulse | undefined>;
  readonly sentence: Accessor<string | undefined>;
  ask(question: Asked): void;
}

export function createTeacher(): Teacher {
  const [facts, setFacts] = createSignal<Facts>();
  const [pulse, setPulse] = createSignal<Pulse>();
  const [sentence, setSentence] = createSignal<string>();
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "explain" });
  onCleanup(() => worker.terminate());
  const waiting = new Map<Asked["task"], Asked>();
  let busy = false;
  let last = 0;
  const next = (): void => {
    const [task, question] = [...waiting][0] ?? [];
    if (task === undefined || question === undefined) return;
    waiting.delete(task);
    busy = true;
    last += 1;
    worker.postMessage({ ...question, id: last });
  };
  worker.onmessage = (event: MessageEvent<Reply>) => {
    busy = false;
    const reply = event.data;
    if ("facts" in reply) setFacts(reply.facts);
    else if ("pulse" in reply) setPulse(reply.pulse);
    setSentence("sentence" in reply ? reply.sentence : undefined);
    next();
  };
  return {
    facts,
    pulse,
    sentence,
    ask(question) {
      waiting.set(question.task, question);
      if (!busy) next();
    },
  };
}
