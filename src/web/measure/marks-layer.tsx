/** The marks over the photograph: points, lines, areas by their corners, and the two marks of the wavelength scale. */
import { For, type JSX, Show as When } from "solid-js";
import { Handle, type Place } from "./handle.tsx";
import type { Hand } from "./hand.ts";
import { formatBox, formatMark } from "./mark-words.ts";
import type { Area } from "../../reading/index.ts";
import type { Box } from "./marked.ts";

/** A hand that moves less, in pixels of the screen, draws nothing. */
const DRAWN = 4;

export function MarksLayer(props: {
  readonly hand: Hand;
  readonly onRegion: (area: Area) => void;
  /** pixels of the screen for one of the photograph */
  readonly px: number;
  readonly columns: number;
  readonly rows: number;
}) {
  let layer!: HTMLDivElement;
  const place = (event: MouseEvent): Place => {
    const bounds = layer.getBoundingClientRect();
    return {
      column: (event.clientX - bounds.left) / props.px,
      row: (event.clientY - bounds.top) / props.px,
    };
  };
  /** The region, from corner to corner; a second finger, or a browser that takes the gesture for its own, ends it. */
  const draw = (event: PointerEvent): void => {
    if (event.target !== layer || !event.isPrimary || event.button !== 0) return;
    layer.setPointerCapture(event.pointerId);
    const from = place(event);
    let drawn = false;
    const move = (moved: PointerEvent): void => {
      drawn ||= Math.hypot(moved.clientX - event.clientX, moved.clientY - event.clientY) >= DRAWN;
      if (drawn) props.onRegion(areaBetween(from, place(moved), props));
    };
    const end = (last: PointerEvent): void => {
      layer.removeEventListener("pointermove", move);
      layer.removeEventListener("pointerup", end);
      layer.removeEventListener("pointercancel", end);
      props.hand.settle();
      if (!drawn) return;
      if (last.type === "pointercancel") props.hand.undo();
      // From here the arrow keys go on.
      else layer.querySelector<HTMLButtonElement>(".box-handle.lower.region")?.focus({ preventScroll: true });
    };
    layer.addEventListener("pointermove", move);
    layer.addEventListener("pointerup", end);
    layer.addEventListener("pointercancel", end);
  };
  const ids = (of: readonly { readonly id: number }[]): number[] => of.map(({ id }) => id);
  const common = { place, onSettle: () => props.hand.settle() };
  return (
    <div
      class="marks-layer"
      ref={(element) => {
        layer = element;
        element.addEventListener("pointerdown", draw);
        element.addEventListener("dblclick", (event) => {
          if (event.target !== element) return;
          const { column, row } = place(event);
          props.hand.add(column, row);
        });
      }}
    >
      <For each={ids(props.hand.marked().boxes)}>{(id) => <BoxHandles {...props} {...common} id={id} />}</For>
      <For each={ids(props.hand.marked().scale)}>
        {(id, k) => {
          const mark = () => props.hand.marked().scale.find((each) => each.id === id);
          return (
            <Handle
              {...common}
              kind="scale-handle"
              px={props.px}
              down="7%"
              label={`mark ${k() + 1} of the scale, ${mark()?.wavelength ?? ""}, at column ${mark()?.column.toFixed(1) ?? ""}`}
              at={upright(mark()?.column)}
              onMove={({ column }) => props.hand.setScale(id, { column })}
            />
          );
        }}
      </For>
      <For each={ids(props.hand.marked().marks)}>
        {(id, at) => {
          const mark = () => props.hand.marked().marks.find((each) => each.id === id);
          return (
            <Handle
              {...common}
              kind="hand-mark"
              px={props.px}
              {...(mark()?.line === undefined ? {} : { down: "93%" })}
              struck={mark()?.struck === true}
              label={formatMark(mark(), at())}
              at={mark()}
              onMove={({ column, row }) => props.hand.move(id, column, row)}
              onStrike={() => props.hand.strike(id)}
            />
          );
        }}
      </For>
    </div>
  );
}

/** All pixels between two places in the picture, two to either side at least. */
function areaBetween(a: Place, b: Place, size: { readonly columns: number; readonly rows: number }): Area {
  const span = (p: number, q: number, count: number): [number, number] => {
    const first = between(Math.floor(Math.min(p, q)), 0, count - 2);
    return [first, between(Math.ceil(Math.max(p, q)) - 1, first + 1, count - 1)];
  };
  return { columns: span(a.column, b.column, size.columns), rows: span(a.row, b.row, size.rows) };
}

function upright(column: number | undefined): Place | undefined {
  return column === undefined ? undefined : { column, row: 0 };
}

/** An area: its frame, and a handle at its upper left and lower right corner. */
function BoxHandles(props: {
  readonly id: number;
  readonly hand: Hand;
  readonly px: number;
  readonly columns: number;
  readonly rows: number;
  readonly place: (event: MouseEvent) => Place;
  readonly onSettle: () => void;
}): JSX.Element {
  const box = (): Box | undefined => props.hand.marked().boxes.find(({ id }) => id === props.id);
  const strike = (): void => {
    props.hand.removeBox(props.id);
    // The handle goes with its area: the keyboard goes on from the panel.
    document.querySelector<HTMLButtonElement>(".hand button")?.focus();
  };
  return (
    <When when={box()}>
      {(now) => {
        const [columns, rows] = [() => now().area.columns, () => now().area.rows];
        // Pixels are counted from the first to the last; their edges are drawn.
        const first = ({ column, row }: Place): void =>
          props.hand.setBox(props.id, {
            columns: [between(column, 0, columns()[1]), columns()[1]],
            rows: [between(row, 0, rows()[1]), rows()[1]],
          });
        const last = ({ column, row }: Place): void =>
          props.hand.setBox(props.id, {
            columns: [columns()[0], between(column - 1, columns()[0], props.columns - 1)],
            rows: [rows()[0], between(row - 1, rows()[0], props.rows - 1)],
          });
        return (
          <>
            <div class="hand-shade">
              <div
                class="hand-box"
                classList={{ region: now().kind === "region" }}
                style={{
                  left: `${columns()[0] * props.px}px`,
                  top: `${rows()[0] * props.px}px`,
                  width: `${(columns()[1] + 1 - columns()[0]) * props.px}px`,
                  height: `${(rows()[1] + 1 - rows()[0]) * props.px}px`,
                }}
              />
            </div>
            <Handle
              kind={`box-handle upper ${now().kind}`}
              px={props.px}
              place={props.place}
              onSettle={props.onSettle}
              whole
              label={`upper left corner, ${formatBox(now())}`}
              at={{ column: columns()[0], row: rows()[0] }}
              onMove={first}
              onStrike={strike}
            />
            <Handle
              kind={`box-handle lower ${now().kind}`}
              px={props.px}
              place={props.place}
              onSettle={props.onSettle}
              whole
              label={`lower right corner, ${formatBox(now())}`}
              at={{ column: columns()[1] + 1, row: rows()[1] + 1 }}
              onMove={last}
              onStrike={strike}
            />
          </>
        );
      }}
    </When>
  );
}

function between(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, Math.round(value)));
}
