// @vitest-environment node
import { describe, expect, it } from "vitest";
import { newestWins, type Post } from "./client.ts";
import type { CanvasToWorker, ForeseeRequest, Foreseen, FromWorker, Outcome, ToWorker } from "./protocol.ts";

class FakeWorker implements Post {
  readonly received: ToWorker[] = [];
  terminated = false;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  onmessageerror: ((event: MessageEvent) => void) | null = null;
  postMessage(message: ToWorker | CanvasToWorker): void {
    if ("id" in message) this.received.push(message);
  }
  terminate(): void {
    this.terminated = true;
  }
  answer(id: number, took: number): void {
    const outcome: Outcome<Foreseen> = { outcome: "done", took, answer: {} as Foreseen };
    this.onmessage?.({ data: { id, outcome } } as MessageEvent<FromWorker>);
  }
}

const request = (bottom: string): ForeseeRequest => ({
  task: "foresee",
  setup: { vessel: { bottom } },
  show: "hot",
  precision: "coarse",
  red: false,
  wanted: "all",
  colours: "camera",
  tints: false,
  minute: null,
});

function bench() {
  const workers: FakeWorker[] = [];
  const client = newestWins<ForeseeRequest>(() => {
    const worker = new FakeWorker();
    workers.push(worker);
    return worker;
  });
  const answers: string[] = [];
  const ask = (bottom: string): void =>
    client.ask(request(bottom), (outcome) => answers.push(`${bottom} ${outcome.outcome}`));
  return { workers, client, answers, ask };
}

describe("newest wins", () => {
  it("sends one at a time and drops what was overtaken while waiting", () => {
    const { workers, answers, ask } = bench();
    for (const bottom of ["a", "b", "c", "d"]) ask(bottom);
    expect(workers).toHaveLength(1);
    const [worker] = workers;
    expect(worker?.received.map((message) => message.id)).toEqual([1]);
    worker?.answer(1, 5);
    expect(worker?.received.map((message) => message.id)).toEqual([1, 4]);
    worker?.answer(4, 5);
    expect(answers).toEqual(["a done", "d done"]);
  });

  it("ignores an answer to something it does not wait for", () => {
    const { workers, answers, ask } = bench();
    ask("a");
    workers[0]?.answer(7, 1);
    workers[0]?.onmessage?.({ data: { ready: true } } as MessageEvent<FromWorker>);
    expect(answers).toEqual([]);
  });

  it("says so when a worker breaks, and starts a fresh one for what waits", () => {
    const { workers, answers, ask } = bench();
    ask("a");
    ask("b");
    workers[0]?.onerror?.({ message: "out of memory" } as ErrorEvent);
    expect(workers[0]?.terminated).toBe(true);
    expect(answers).toEqual(["a failed"]);
    expect(workers).toHaveLength(2);
    workers[1]?.answer(2, 1);
    expect(answers).toEqual(["a failed", "b done"]);
  });

  it("keeps quiet about what it was told to forget", () => {
    const { workers, client, answers, ask } = bench();
    ask("a");
    ask("b");
    client.forget();
    workers[0]?.answer(1, 1);
    expect(answers).toEqual([]);
    expect(workers[0]?.received).toHaveLength(1);
  });
});
