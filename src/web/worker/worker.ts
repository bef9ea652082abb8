/** The worker's side: one request in, one answer out; a refusal is an answer, a fault of the program too. */
import { Refusal } from "../../quantity/index.ts";
import { foresee } from "./foresee.ts";
import type { FromWorker, Outcome, PhotoReading, Request, Sight, ToWorker } from "./protocol.ts";
import { readPhotographs } from "./read.ts";
import { Faults } from "./faults.ts";
import { buffersOf } from "./transfer.ts";

const scope = self as unknown as {
  postMessage(message: FromWorker, transfer?: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
};

async function answer(request: Request): Promise<Outcome<Sight | PhotoReading>> {
  const began = performance.now();
  try {
    const done = request.task === "foresee" ? foresee(request) : await readPhotographs(request);
    return { outcome: "done", answer: done, took: performance.now() - began };
  } catch (fault) {
    if (fault instanceof Faults) return { outcome: "refused", faults: fault.records, sentences: fault.sentences };
    if (fault instanceof Refusal) return { outcome: "refused", faults: [fault.record], sentences: [fault.message] };
    const said = fault instanceof Error ? fault.message : String(fault);
    return { outcome: "failed", sentence: `The program itself failed: ${said}.` };
  }
}

scope.onmessage = (event) => {
  const { id, request } = event.data;
  void answer(request).then((outcome) => {
    scope.postMessage({ id, outcome }, outcome.outcome === "done" ? buffersOf(outcome.answer) : []);
  });
};
scope.postMessage({ ready: true });
