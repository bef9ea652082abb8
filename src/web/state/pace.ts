/**
 * Keeps a moving hand in step with what it moves: while one step is being worked out, only the newest of the next ones is
 * kept, and taken when that is done. So the page never spends time on steps that nobody will see.
 */
export interface Pace {
  /** Takes the step at once where nothing is under way, else when that is done, unless a newer step comes first. */
  soon(step: () => void): void;
  /** Takes the step that waits now. */
  flush(): void;
  /** A step is being worked out. */
  begun(): void;
  /** It is worked out. */
  done(): void;
}

export function createPace(): Pace {
  let busy = false;
  let waiting: (() => void) | undefined;
  const flush = (): void => {
    const step = waiting;
    waiting = undefined;
    step?.();
  };
  return {
    soon(step) {
      waiting = step;
      if (!busy) flush();
    },
    flush,
    begun: () => {
      busy = true;
    },
    done: () => {
      busy = false;
      flush();
    },
  };
}
