/** The marks on one photograph, with every step undone and redone; they stay while it is read again. The numbers by hand follow. */
import { type Accessor, batch, createEffect, createSignal, on, onCleanup, untrack } from "solid-js";
import type { Area, HandReading } from "../../reading/index.ts";
import type { JsonObject } from "../../setup/index.ts";
import { amend, beginHistory, type History, push, redo, settle, undo } from "../state/history.ts";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import {
  type Box,
  curveMarks,
  documentOf,
  foundMarks,
  type Marked,
  marksAfterReading,
  openedMarks,
  strike,
  UNMARKED,
  untouched,
  withoutBox,
} from "./marked.ts";
import type { Aim } from "./aim.ts";
import { samePhoto } from "./photographs.ts";
import type { MarksRequest, OpenMarksRequest, PhotoReading, QuarterTurn } from "./protocol.ts";

/** Where a reading came from. */
export interface Read {
  readonly reading: PhotoReading;
  readonly photo: File;
}

export interface Hand {
  readonly marked: Accessor<Marked>;
  /** the only part to look at */
  readonly region: Accessor<Area | undefined>;
  /** what the marks alone say */
  readonly reading: Accessor<HandReading | undefined>;
  /** why there is none */
  readonly refused: Accessor<string | undefined>;
  /** what undo and redo would do, undefined where there is nothing */
  readonly undoLabel: Accessor<string | undefined>;
  readonly redoLabel: Accessor<string | undefined>;
  undo(): void;
  redo(): void;
  /** Ends a drag, so that the next change is a step of its own. */
  settle(): void;
  move(id: number, column: number, row: number): void;
  /** @returns the new mark's id */
  add(column: number, row: number): number;
  strike(id: number): void;
  /** An area of a tenth of the picture in its middle, left out; or the region, all of the picture at first. @returns its id */
  addBox(kind: Box["kind"]): number;
  setBox(id: number, area: Area): void;
  removeBox(id: number): void;
  /** The only part of a photograph to look at, be it read already or not; undefined for all of it. */
  setRegion(photo: File, area: Area | undefined): void;
  /** A quarter turn more; what was marked on the photograph as it lay goes. */
  turn(way: QuarterTurn): void;
  /** Two marks of the wavelength scale where the lines stand, or none again. */
  toggleScale(): void;
  setScale(id: number, change: { readonly column?: number; readonly wavelength?: string }): void;
  reset(): void;
  /** The marks of a photograph as their file has them, undefined where there are none. */
  documentOf(photo: File): JsonObject | undefined;
  /** Takes the marks of a file for a photograph, be it read already or not; says what is wrong with it. */
  open(file: File, photo: File, wrong: (sentences: readonly string[]) => void): void;
}

export function createHand(
  read: Accessor<Read | undefined>,
  setup: Accessor<SetupText>,
  start: () => Post,
  aim: Accessor<Aim | undefined>,
): Hand {
  const client = newestWins<MarksRequest>(start);
  const [history, setHistory] = createSignal<History<Marked>>(beginHistory(UNMARKED));
  const [result, setResult] = createSignal<HandReading>();
  const [refused, setRefused] = createSignal<string>();
  /** the photograph that the marks are on */
  const [photo, setPhoto] = createSignal<File>();
  /** the photograph of which a reading came last */
  let lastRead: File | undefined;
  onCleanup(() => client.close());
  const marked = (): Marked => history().present.state;
  const ofRead = (): boolean => {
    const [now, on] = [read(), photo()];
    return now !== undefined && on !== undefined && samePhoto(now.photo, on);
  };
  const size = () => (ofRead() ? read()?.reading.views.hot : aim()?.view) ?? { columns: 0, rows: 0 };
  /** Takes up a photograph; the marks on another one go. */
  const begin = (of: File): void => {
    const was = untrack(photo);
    if (was !== undefined && samePhoto(was, of)) return;
    const now = untrack(read);
    setPhoto(of);
    const found = now !== undefined && samePhoto(now.photo, of) ? foundMarks(now.reading) : UNMARKED;
    setHistory(beginHistory(found));
  };
  const step = (state: Marked, label: string, gesture?: string): void => {
    if (state !== marked()) setHistory((was) => push(was, state, label, gesture));
  };

  createEffect(
    on(read, (now) => {
      if (now === undefined) return;
      const found = foundMarks(now.reading);
      const was = untrack(photo);
      if (was === undefined || !samePhoto(was, now.photo)) setHistory(beginHistory(found));
      else if (lastRead === undefined || !samePhoto(lastRead, now.photo))
        setHistory(beginHistory(marksAfterReading(found, untrack(marked))));
      // Nobody has marked anything yet: the marks go with the newest reading.
      else if (untouched(marked())) setHistory((was) => amend(was, found));
      setPhoto(now.photo);
      lastRead = now.photo;
    }),
  );
  createEffect(
    on(aim, (now) => {
      if (now !== undefined) begin(now.photo);
    }),
  );
  createEffect(
    on([marked, setup], ([now, open]) => {
      const view = read()?.reading.views.hot;
      if (view === undefined || !ofRead()) return;
      client.ask(
        {
          task: "marks",
          setup: open,
          columns: view.columns,
          rows: view.rows,
          marks: curveMarks(now).map(({ column, row }) => ({ column, row })),
          lines: now.marks.flatMap(({ line, column, struck }) =>
            line === undefined || struck ? [] : [{ wavelength: line, column }],
          ),
        },
        (done) => {
          setResult(done.outcome === "done" ? done.answer : undefined);
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
  const boxAtFirst = (kind: Box["kind"]): Area => {
    const { columns, rows } = size();
    if (kind === "region") return { columns: [0, columns - 1], rows: [0, rows - 1] };
    const about = (n: number): [number, number] => [Math.round(0.45 * n), Math.round(0.55 * n)];
    return { columns: about(columns), rows: about(rows) };
  };
  return {
    marked,
    region: () => marked().boxes.find(({ kind }) => kind === "region")?.area,
    reading: result,
    refused,
    undoLabel: () => (history().past.length > 0 ? history().present.label : undefined),
    redoLabel: () => history().future[0]?.label,
    undo: () => setHistory(undo),
    redo: () => setHistory(redo),
    settle: () => setHistory(settle),
    move(id, column, row) {
      const { columns, rows } = size();
      const marks = marked().marks.map((mark) =>
        mark.id === id ? { ...mark, column: within(column, columns), row: within(row, rows) } : mark,
      );
      step({ ...marked(), marks }, "mark moved", `mark ${id}`);
    },
    add(column, row) {
      const { marks, next } = marked();
      const mark = { id: next, column, row, struck: false, line: undefined };
      step({ ...marked(), marks: [...marks, mark], next: next + 1 }, "mark added");
      return next;
    },
    strike: (id) => step(strike(marked(), id), "mark struck"),
    addBox(kind) {
      const { boxes, next } = marked();
      const box: Box = { id: next, kind, area: boxAtFirst(kind) };
      const label = kind === "region" ? "region" : "area left out";
      step({ ...marked(), boxes: [...boxes, box], next: next + 1 }, label);
      return next;
    },
    setBox(id, area) {
      const boxes = marked().boxes.map((box) => (box.id === id ? { ...box, area } : box));
      step({ ...marked(), boxes }, "area changed", `box ${id}`);
    },
    removeBox: (id) => step(withoutBox(marked(), id), "area taken away"),
    setRegion(of, area) {
      begin(of);
      const { boxes, next } = marked();
      const others = boxes.filter(({ kind }) => kind !== "region");
      if (area === undefined) {
        if (others.length < boxes.length) step({ ...marked(), boxes: others }, "region taken away");
        return;
      }
      const id = boxes.find(({ kind }) => kind === "region")?.id ?? next;
      const box: Box = { id, kind: "region", area };
      step({ ...marked(), boxes: [...others, box], next: Math.max(next, id + 1) }, "region", "region");
    },
    turn(way) {
      const { turn, next } = marked();
      const turned = turn === undefined ? way : undefined;
      if (turn !== way)
        step({ ...UNMARKED, next, ...(turned && { turn: turned, turnSaid: true }) }, `turned ${way}`);
    },
    toggleScale() {
      const { scale, next } = marked();
      if (scale.length > 0) return step({ ...marked(), scale: [] }, "marks of the scale taken away");
      step(
        { ...marked(), scale: scaleAtFirst(read()?.reading, next), next: next + 2 },
        "marks of the scale set",
      );
    },
    setScale(id, change) {
      const scale = marked().scale.map((mark) =>
        mark.id === id
          ? { ...mark, ...change, column: within(change.column ?? mark.column, size().columns) }
          : mark,
      );
      step({ ...marked(), scale }, "mark of the scale changed", `scale ${id}`);
    },
    reset() {
      const now = read();
      const { turnSaid } = marked();
      if (now !== undefined)
        step(
          { ...foundMarks(now.reading), ...(turnSaid === undefined ? {} : { turnSaid }) },
          "marks as found",
        );
    },
    documentOf(of) {
      const now = photo();
      return now !== undefined && samePhoto(now, of) ? documentOf(marked()) : undefined;
    },
    open(file, of, wrong) {
      const opener = newestWins<OpenMarksRequest>(start);
      opener.ask({ task: "open-marks", file }, (done) => {
        opener.close();
        if (done.outcome !== "done")
          return wrong(done.outcome === "refused" ? done.sentences : [done.sentence]);
        batch(() => {
          const now = read();
          if (now !== undefined && samePhoto(now.photo, of))
            return step(openedMarks(foundMarks(now.reading), done.answer), `marks of ${file.name}`);
          setPhoto(of);
          setHistory(beginHistory(openedMarks(UNMARKED, done.answer)));
        });
      });
    },
  };
}

const within = (value: number, most: number): number => Math.min(most, Math.max(0, value));

/** On two of the lines where there are two, else at a quarter and three quarters of the picture, its wavelengths as they were read. */
function scaleAtFirst(reading: PhotoReading | undefined, next: number): Marked["scale"] {
  if (reading === undefined) return [];
  const { lines, scale } = reading;
  const places =
    lines.length === 2
      ? lines.map(({ column, wavelength }) => ({ column, nm: (wavelength * 1e9).toFixed(4) }))
      : [scale[0], scale.at(-1)].flatMap((tick) =>
          tick === undefined ? [] : [{ column: tick.at, nm: tick.text }],
        );
  return places.map(({ column, nm }, k) => ({ id: next + k, column, wavelength: `${nm} nm vacuum` }));
}
