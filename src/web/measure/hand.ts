/** The marks on the photograph: set from the reading at first, then moved, added and struck by hand; numbers follow. */
import { type Accessor, createEffect, createSignal, on, onCleanup } from "solid-js";
import type { HandMark, HandReading } from "../../reading/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import type { MarksRequest, PhotoReading } from "./protocol.ts";

export interface Mark extends HandMark {
  /** stays the same while the mark is moved */
  readonly id: number;
  readonly struck: boolean;
  /** a point on the curve, or the place of a line (its row says nothing) */
  readonly line: number | undefined;
}

export interface Hand {
  readonly marks: Accessor<readonly Mark[]>;
  readonly reading: Accessor<HandReading | undefined>;
  /** why there is none */
  readonly refused: Accessor<string | undefined>;
  move(id: number, column: number, row: number): void;
  /** @returns the new mark's id */
  add(column: number, row: number): number;
  strike(id: number): void;
  reset(): void;
}

/** Marks taken from the trace at first. */
const FIRST_MARKS = 16;
/** Only where so much light is left. */
const LIT = 0.85;

/** Evenly over the lit parts of the trace; exported for its test. */
export function firstMarks({ trace, lines }: PhotoReading): readonly Omit<Mark, "id">[] {
  const lit: number[] = [];
  for (let i = 0; i < trace.column.length; i++) if (trace.light[i] > LIT) lit.push(i);
  const marks = Array.from({ length: Math.min(FIRST_MARKS, lit.length) }, (_, k) => {
    const i = lit[Math.floor(((k + 0.5) * lit.length) / FIRST_MARKS)] ?? 0;
    return { column: trace.column[i], row: trace.row[i], struck: false, line: undefined };
  });
  return [
    ...marks,
    ...lines.map(({ column, wavelength }) => ({ column, row: 0, struck: false, line: wavelength })),
  ];
}

export function createHand(
  reading: Accessor<PhotoReading | undefined>,
  setup: Accessor<SetupText>,
  start: () => Post,
): Hand {
  const client = newestWins<MarksRequest>(start);
  const [marks, setMarks] = createSignal<readonly Mark[]>([]);
  const [read, setRead] = createSignal<HandReading>();
  const [refused, setRefused] = createSignal<string>();
  let lastId = 0;
  onCleanup(() => client.close());
  const reset = (): void => {
    const now = reading();
    setMarks(now === undefined ? [] : firstMarks(now).map((mark) => ({ ...mark, id: ++lastId })));
  };
  createEffect(on(reading, reset));
  createEffect(
    on([marks, setup], ([now, open]) => {
      const view = reading()?.views.hot;
      if (view === undefined) return;
      const kept = now.filter(({ struck }) => !struck);
      client.ask(
        {
          task: "marks",
          setup: open,
          columns: view.columns,
          rows: view.rows,
          marks: kept.filter(({ line }) => line === undefined).map(({ column, row }) => ({ column, row })),
          lines: kept.flatMap(({ line, column }) =>
            line === undefined ? [] : [{ wavelength: line, column }],
          ),
        },
        (done) => {
          setRead(done.outcome === "done" ? done.answer : undefined);
          setRefused(
            done.outcome === "done"
              ? undefined
              : done.outcome === "refused"
                ? done.sentences.join(" ")
                : done.sentence,
          );
        },
      );
    }),
  );
  const change = (id: number, to: (mark: Mark) => Mark): void =>
    void setMarks((was) => was.map((mark) => (mark.id === id ? to(mark) : mark)));
  return {
    marks,
    reading: read,
    refused,
    move(id, column, row) {
      const view = reading()?.views.hot;
      if (view === undefined) return;
      change(id, (mark) => ({
        ...mark,
        column: Math.min(view.columns, Math.max(0, column)),
        row: Math.min(view.rows, Math.max(0, row)),
      }));
    },
    add(column, row) {
      lastId += 1;
      const id = lastId;
      setMarks((was) => [...was, { id, column, row, struck: false, line: undefined }]);
      return id;
    },
    strike: (id) => change(id, (mark) => ({ ...mark, struck: !mark.struck })),
    reset,
  };
}
