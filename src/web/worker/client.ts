/**
 * The page's side of a worker: at most one request under way, at most one waiting, and the newest wins. A request that
 * was overtaken is never answered to the page.
 */
import type { AnswerTo, CanvasToWorker, FromWorker, Outcome, Request, ToWorker } from "./protocol.ts";

/** What this side needs of a worker. */
export interface Post {
  postMessage(message: ToWorker | CanvasToWorker, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
  terminate(): void;
}

interface Job<R extends Request> {
  readonly id: number;
  readonly request: R;
  readonly transfer: Transferable[];
  readonly done: (outcome: Outcome<AnswerTo<R>>) => void;
}

export interface Newest<R extends Request> {
  /** Asks; `done` is called unless a newer request overtakes this one before it was begun. */
  ask(request: R, done: (outcome: Outcome<AnswerTo<R>>) => void, transfer?: Transferable[]): void;
  /** Hands a canvas to the worker as it stands; one that takes its place later has none. */
  hand(canvas: OffscreenCanvas): void;
  /** Starts the worker, so that it has its program when it is first asked. */
  prepare(): void;
  /** Forgets the waiting request and the answer of the one under way. */
  forget(): void;
  close(): void;
}

/** @param onReady called when a worker has its program */
export function newestWins<R extends Request>(start: () => Post, onReady?: () => void): Newest<R> {
  let worker: Post | undefined;
  let underWay: Job<R> | undefined;
  let waiting: Job<R> | undefined;
  let lastId = 0;

  const next = (): void => {
    underWay = waiting;
    waiting = undefined;
    if (underWay === undefined) return;
    worker ??= open();
    worker.postMessage({ id: underWay.id, request: underWay.request }, underWay.transfer);
  };

  const finish = (outcome: Outcome<AnswerTo<R>>): void => {
    const job = underWay;
    underWay = undefined;
    next();
    job?.done(outcome);
  };

  const open = (): Post => {
    const opened = start();
    opened.onmessage = (event) => {
      const message = event.data;
      if (message.ready === true) onReady?.();
      else if (message.id === underWay?.id) finish(message.outcome as Outcome<AnswerTo<R>>);
    };
    const broken = (sentence: string): void => {
      // A worker that broke may be in any state: the next request starts a fresh one.
      opened.terminate();
      worker = undefined;
      finish({ outcome: "failed", sentence });
    };
    opened.onerror = (event) =>
      broken(`The computation stopped: ${event.message || "its program could not be loaded"}.`);
    opened.onmessageerror = () => broken("The computation's answer could not be understood.");
    return opened;
  };

  return {
    ask(request, done, transfer = []) {
      lastId += 1;
      waiting = { id: lastId, request, transfer, done };
      if (underWay === undefined) next();
    },
    hand(canvas) {
      worker ??= open();
      worker.postMessage({ canvas }, [canvas]);
    },
    prepare() {
      worker ??= open();
    },
    forget() {
      waiting = undefined;
      if (underWay !== undefined) underWay = { ...underWay, done: () => undefined };
    },
    close() {
      worker?.terminate();
      worker = undefined;
      underWay = undefined;
      waiting = undefined;
    },
  };
}
