/** The worker's side of the protocol: one request in, one answer out; a refusal is an answer, a fault of the program too. */
import { Refusal } from "../../quantity/refusal.ts";
import { Faults } from "./faults.ts";
import type { AnswerTo, CanvasToWorker, FromWorker, Outcome, Request, ToWorker } from "./protocol.ts";
import { buffersOf } from "./transfer.ts";

/** What this side needs of its global scope. */
interface Scope {
  postMessage(message: FromWorker, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<ToWorker | CanvasToWorker>) => void) | null;
}

/** A function for each task that a worker knows. */
type Tasks = {
  readonly [T in Request["task"]]?: (
    request: Extract<Request, { task: T }>,
  ) => AnswerTo<Extract<Request, { task: T }>> | Promise<AnswerTo<Extract<Request, { task: T }>>>;
};

/** A worker of one task. */
export function serveRequests<R extends Request>(
  task: R["task"],
  answer: (request: R) => AnswerTo<R> | Promise<AnswerTo<R>>,
  takeCanvas?: (canvas: OffscreenCanvas) => void,
): void {
  serveTasks({ [task]: answer }, takeCanvas);
}

/** A worker of several tasks: a function for each, by its name. */
export function serveTasks(answers: Tasks, takeCanvas?: (canvas: OffscreenCanvas) => void): void {
  const scope = self as unknown as Scope;
  scope.onmessage = (event) => {
    if ("canvas" in event.data) {
      takeCanvas?.(event.data.canvas);
      return;
    }
    const { id, request } = event.data;
    void outcomeOf(request, answers).then((outcome) => {
      scope.postMessage({ id, outcome }, outcome.outcome === "done" ? buffersOf(outcome.answer) : []);
    });
  };
  scope.postMessage({ ready: true }, []);
}

async function outcomeOf(request: Request, answers: Tasks): Promise<Outcome<AnswerTo<Request>>> {
  // The table gives each task its own kind of request; the name keeps them apart.
  const answer = answers[request.task] as ((request: Request) => unknown) | undefined;
  if (answer === undefined)
    return {
      outcome: "failed",
      sentence: `This worker knows the task ${Object.keys(answers).join(", ")} only, not ${request.task}.`,
    };
  const began = performance.now();
  try {
    return {
      outcome: "done",
      answer: (await answer(request)) as AnswerTo<Request>,
      took: performance.now() - began,
    };
  } catch (fault) {
    if (fault instanceof Faults)
      return { outcome: "refused", faults: fault.records, sentences: fault.sentences };
    if (fault instanceof Refusal)
      return { outcome: "refused", faults: [fault.record], sentences: [fault.message] };
    const said = fault instanceof Error ? fault.message : String(fault);
    return { outcome: "failed", sentence: `The program itself failed: ${said}.` };
  }
}
