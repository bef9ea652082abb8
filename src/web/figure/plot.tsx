/**
 * A figure with axes and units: curves over one horizontal axis, marks, and a line that a pointer or the arrow keys
 * move. It is told what it says in words (`summary`) and what the line reads (`readout`).
 */
import { createMemo, For, Index, Show as When } from "solid-js";
import { parts } from "../words/text.tsx";
import { CursorHandle } from "./cursor-handle.tsx";
import { type Axis, nearestIndex, pathOf, ticksOf } from "./scale.ts";
import { createWidth } from "./size.ts";

export interface Series {
  readonly name: string;
  readonly y: ArrayLike<number>;
  readonly ink: "blue" | "copper" | "ink";
  readonly dashed?: boolean;
  /** drawn against the right-hand axis */
  readonly right?: boolean;
}

export interface Mark {
  readonly x: number;
  readonly text: string;
}

export interface PlotProps {
  readonly title: string;
  /** what the figure shows, in words and numbers */
  readonly summary: string;
  readonly x: ArrayLike<number>;
  readonly xAxis: Axis;
  readonly yAxis: Axis;
  readonly rightAxis?: Axis;
  readonly series: readonly Series[];
  readonly marks?: readonly Mark[];
  readonly height: number;
  /** draws a line at zero of the left axis */
  readonly zero?: boolean;
  /** hides tick text of the horizontal axis, where a neighbour carries the same scale */
  readonly bare?: boolean;
  readonly margin?: { readonly left: number; readonly right: number };
  /** position of the line in the units of `x`, null for none */
  readonly cursor?: number | null;
  readonly onCursor?: (x: number) => void;
  readonly readout?: (index: number) => string;
  /** how a tick's number is written; with a decimal point where not given */
  readonly write?: (tick: string) => string;
}

export function Plot(props: PlotProps) {
  const { width, measure } = createWidth(360);
  const write = (tick: string): string => props.write?.(tick) ?? tick;
  const left = () => props.margin?.left ?? 52;
  const right = () => props.margin?.right ?? (props.rightAxis === undefined ? 8 : 44);
  const box = createMemo(() => ({
    left: left(),
    right: Math.max(left() + 20, width() - right()),
    top: 18,
    bottom: props.height - (props.bare === true ? 6 : 34),
  }));
  // Plain functions of numbers: they run once per point, and must not ask the page's state each time.
  const horizontal = createMemo(() => {
    const { from, to } = props.xAxis;
    const { left: start, right: end } = box();
    const perUnit = (end - start) / (to - from);
    return (value: number): number => start + (value - from) * perUnit;
  });
  const toX = (value: number): number => horizontal()(value);
  const toYOn = ({ from, to }: Axis): ((value: number) => number) => {
    const { top, bottom } = box();
    const perUnit = (bottom - top) / (to - from);
    return (value) => bottom - (value - from) * perUnit;
  };
  const clip = `clip-${Math.random().toString(36).slice(2)}`;

  const cursorIndex = createMemo(() => {
    const at = props.cursor;
    return at === undefined || at === null || props.x.length === 0 ? undefined : nearestIndex(props.x, at);
  });
  const place = (event: PointerEvent & { currentTarget: SVGSVGElement }): void => {
    const bounds = event.currentTarget.getBoundingClientRect();
    const share = (event.clientX - bounds.left - box().left) / (box().right - box().left);
    if (share < 0 || share > 1) return;
    props.onCursor?.(props.xAxis.from + share * (props.xAxis.to - props.xAxis.from));
  };

  return (
    <figure class="plot">
      <figcaption class="unseen">
        {props.title}. {props.summary}
      </figcaption>
      <div class="plot-body" ref={measure}>
        <svg
          width={width()}
          height={props.height}
          aria-hidden="true"
          onPointerMove={(event) => {
            if (event.pointerType === "mouse" || event.buttons > 0) place(event);
          }}
          onPointerDown={place}
        >
          <clipPath id={clip}>
            <rect
              x={box().left}
              y={box().top - 2}
              width={box().right - box().left}
              height={box().bottom - box().top + 4}
            />
          </clipPath>
          <g class="axis">
            <Index each={ticksOf(props.yAxis)}>
              {(tick) => (
                <g transform={`translate(0 ${toYOn(props.yAxis)(tick().value)})`}>
                  <line class="tick" x1={box().left - 4} x2={box().left} />
                  <text x={box().left - 7} dy="0.32em" text-anchor="end">
                    {write(tick().text)}
                  </text>
                </g>
              )}
            </Index>
            <line class="frame" x1={box().left} x2={box().left} y1={box().top} y2={box().bottom} />
            <AxisName axis={props.yAxis} x={0} anchor="start" />
            <When when={props.rightAxis}>
              {(axis) => (
                <>
                  <Index each={ticksOf(axis())}>
                    {(tick) => (
                      <g transform={`translate(0 ${toYOn(axis())(tick().value)})`}>
                        <line class="tick" x1={box().right} x2={box().right + 4} />
                        <text x={box().right + 7} dy="0.32em">
                          {write(tick().text)}
                        </text>
                      </g>
                    )}
                  </Index>
                  <line class="frame" x1={box().right} x2={box().right} y1={box().top} y2={box().bottom} />
                  <AxisName axis={axis()} x={width()} anchor="end" />
                </>
              )}
            </When>
            <When when={props.bare !== true}>
              <line class="frame" x1={box().left} x2={box().right} y1={box().bottom} y2={box().bottom} />
              <Index each={ticksOf(props.xAxis)}>
                {(tick) => (
                  <g transform={`translate(${toX(tick().value)} ${box().bottom})`}>
                    <line class="tick" y2={4} />
                    <text y={17} text-anchor="middle">
                      {write(tick().text)}
                    </text>
                  </g>
                )}
              </Index>
              <text class="name" x={box().right} y={props.height - 2} text-anchor="end">
                <Powers of={axisName(props.xAxis)} />
              </text>
            </When>
          </g>
          <When when={props.zero === true && props.yAxis.from < 0 && props.yAxis.to > 0}>
            <line
              class="zero"
              x1={box().left}
              x2={box().right}
              y1={toYOn(props.yAxis)(0)}
              y2={toYOn(props.yAxis)(0)}
            />
          </When>
          <g clip-path={`url(#${clip})`}>
            <For each={props.marks ?? []}>
              {(mark) => (
                <g transform={`translate(${toX(mark.x)} 0)`}>
                  <line class="mark" y1={box().top} y2={box().bottom} />
                  <text class="mark-text" x={4} y={box().top + 9}>
                    {mark.text}
                  </text>
                </g>
              )}
            </For>
            <For each={props.series}>
              {(series) => (
                <path
                  class={`curve ${series.ink}`}
                  classList={{ dashed: series.dashed === true }}
                  d={pathOf(
                    props.x,
                    series.y,
                    horizontal(),
                    toYOn(
                      series.right === true && props.rightAxis !== undefined ? props.rightAxis : props.yAxis,
                    ),
                    box(),
                  )}
                />
              )}
            </For>
            <When when={props.cursor !== undefined && props.cursor !== null}>
              <line
                class="cursor"
                x1={toX(props.cursor ?? 0)}
                x2={toX(props.cursor ?? 0)}
                y1={box().top}
                y2={box().bottom}
              />
            </When>
          </g>
        </svg>
        <When when={props.onCursor}>
          <CursorHandle
            label={`Line in the figure ${props.title}`}
            from={props.xAxis.from}
            to={props.xAxis.to}
            at={props.cursor ?? null}
            text={(() => {
              const index = cursorIndex();
              return index === undefined ? "not set" : (props.readout?.(index) ?? "");
            })()}
            onMove={(x) => props.onCursor?.(x)}
          />
        </When>
      </div>
    </figure>
  );
}

function axisName(axis: Axis): string {
  return axis.unit === "" ? axis.label : `${axis.label}, ${axis.unit}`;
}

function AxisName(props: { readonly axis: Axis; readonly x: number; readonly anchor: "start" | "end" }) {
  return (
    <text class="name" x={props.x} y={9} text-anchor={props.anchor}>
      <Powers of={axisName(props.axis)} />
    </text>
  );
}

/** Powers inside SVG text. */
export function Powers(props: { readonly of: string }) {
  return (
    <For each={parts(props.of)}>
      {(part) =>
        part.raised ? (
          <>
            <tspan dy="-0.35em" font-size="75%">
              {part.text}
            </tspan>
            <tspan dy="0.26em">{"\u200b"}</tspan>
          </>
        ) : (
          <tspan>{part.text}</tspan>
        )
      }
    </For>
  );
}
