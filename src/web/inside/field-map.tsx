/** A table of values painted with the page's ramp, with contours, axes in millimetres and a key in the quantity's unit. */
import { createMemo, createUniqueId, For, Index, Show as When } from "solid-js";
import { FieldImage } from "../figure/field-image.tsx";
import { rampFor } from "../figure/ramp.ts";
import { powerOf, ticksOf } from "../figure/scale.ts";
import { createWidth } from "../figure/size.ts";
import { significant, spoken } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import type { Field2D } from "../worker/protocol.ts";
import { contourPath, levelsOf } from "./scales.ts";

export interface FieldMapProps {
  readonly title: string;
  readonly field: Field2D;
  /** of the quantity, SI; what the ramp spans */
  readonly range: { readonly from: number; readonly to: number };
  readonly shown: { readonly unit: string; readonly write: (value: number) => number };
  readonly theme: string;
  /** cut off outside the circle */
  readonly round?: boolean;
  readonly beam?: {
    readonly height: number;
    readonly size: number;
    readonly width: number;
    readonly across: boolean;
  };
  readonly xLabel: string;
  readonly yLabel: string;
}

const LEFT = 46;
const TOP = 8;
const BELOW = 40;
const KEY = 40;

export function FieldMap(props: FieldMapProps) {
  const { width, measure } = createWidth(420);
  const inner = () => Math.max(80, width() - LEFT - 18);
  const height = () => (props.round === true ? inner() : Math.min(240, Math.max(140, inner() * 0.36)));
  const x = (mm: number): number => LEFT + (0.5 + mm / (props.field.width * 1e3)) * inner();
  const y = (mm: number): number => TOP + (0.5 - mm / (props.field.height * 1e3)) * height();
  const power = createMemo(() =>
    props.shown.unit === "°C" ? 0 : powerOf(Math.max(Math.abs(props.range.to), Math.abs(props.range.from))),
  );
  const written = (value: number): number => props.shown.write(value) * 10 ** -power();
  const levels = createMemo(() =>
    levelsOf(written(props.range.from), written(props.range.to)).map(({ value, text }) => ({
      text,
      share: (value - written(props.range.from)) / (written(props.range.to) - written(props.range.from)),
      path: contourPath(
        props.field,
        props.range.from +
          ((value - written(props.range.from)) / (written(props.range.to) - written(props.range.from))) *
            (props.range.to - props.range.from),
      ),
    })),
  );
  const unit = () =>
    [power() === 0 ? "" : `10^${power() < 0 ? "\u2212" : ""}${Math.abs(power())}`, props.shown.unit]
      .filter((part) => part !== "")
      .join(" ");
  const halfX = () => props.field.width * 500;
  const halfY = () => props.field.height * 500;
  const clip = createUniqueId();
  const words = () =>
    spoken(
      `${props.title}: from ${significant(props.shown.write(props.range.from))} to ${significant(props.shown.write(props.range.to))} ${props.shown.unit}; in the middle ${significant(props.shown.write(middle(props.field)))} ${props.shown.unit}.`,
    );

  return (
    <figure class="plot field-map">
      <h3>{props.title}</h3>
      <figcaption class="unseen">{words()}</figcaption>
      <div class="plot-body sections" ref={measure}>
        <FieldImage
          class={props.round === true ? "field-image round" : "field-image"}
          field={props.field}
          theme={props.theme}
          left={LEFT}
          top={TOP}
          width={inner()}
          height={height()}
          from={props.range.from}
          to={props.range.to}
        />
        <svg width={width()} height={TOP + height() + BELOW + KEY} aria-hidden="true">
          <clipPath id={clip}>
            <When
              when={props.round === true}
              fallback={<rect x={LEFT} y={TOP} width={inner()} height={height()} />}
            >
              <circle cx={LEFT + inner() / 2} cy={TOP + height() / 2} r={inner() / 2} />
            </When>
          </clipPath>
          <g clip-path={`url(#${clip})`}>
            <Index each={levels()}>
              {(level) => (
                <path
                  class="contour"
                  d={level().path}
                  transform={`translate(${LEFT} ${TOP}) scale(${inner() / props.field.columns} ${height() / props.field.rows})`}
                />
              )}
            </Index>
          </g>
          <When
            when={props.round === true}
            fallback={<rect class="frame" x={LEFT} y={TOP} width={inner()} height={height()} />}
          >
            <circle class="frame" cx={LEFT + inner() / 2} cy={TOP + height() / 2} r={inner() / 2} />
          </When>
          <When when={props.beam}>
            {(beam) => (
              <rect
                class="beam"
                x={beam().across ? x(-beam().width * 500) : LEFT}
                y={y((beam().height + beam().size / 2) * 1e3)}
                width={beam().across ? (beam().width / props.field.width) * inner() : inner()}
                height={(beam().size / props.field.height) * height()}
              />
            )}
          </When>
          <g class="axis">
            <For
              each={ticksOf({
                label: "",
                unit: "",
                from: -halfX(),
                to: halfX(),
                ticks: props.round === true ? 4 : 8,
              })}
            >
              {(tick) => (
                <g transform={`translate(${x(tick.value)} ${TOP + height()})`}>
                  <line class="tick" y2={4} />
                  <text y={16} text-anchor="middle">
                    {tick.text}
                  </text>
                </g>
              )}
            </For>
            <For each={ticksOf({ label: "", unit: "", from: -halfY(), to: halfY(), ticks: 4 })}>
              {(tick) => (
                <g transform={`translate(${LEFT} ${y(tick.value)})`}>
                  <line class="tick" x1={-4} />
                  <text x={-7} dy="0.32em" text-anchor="end">
                    {tick.text}
                  </text>
                </g>
              )}
            </For>
            <text class="name" x={LEFT + inner()} y={TOP + height() + 32} text-anchor="end">
              {props.xLabel}
            </text>
            <text class="name" x={LEFT} y={TOP + height() + 32}>
              {props.yLabel}
            </text>
          </g>
          <Key
            theme={props.theme}
            top={TOP + height() + BELOW}
            width={Math.min(240, inner())}
            levels={levels()}
            unit={unit()}
          />
        </svg>
      </div>
    </figure>
  );
}

/** What the ramp means, with the contours' values under it. */
function Key(props: {
  readonly theme: string;
  readonly top: number;
  readonly width: number;
  readonly levels: readonly { readonly text: string; readonly share: number }[];
  readonly unit: string;
}) {
  const cells = () => {
    const ramp = rampFor(props.theme);
    return Array.from({ length: 40 }, (_, i) => {
      const c = ramp[Math.round((i * 255) / 39)] ?? 0;
      return `rgb(${c & 255} ${(c >>> 8) & 255} ${(c >>> 16) & 255})`;
    });
  };
  return (
    <g class="axis" transform={`translate(${LEFT} ${props.top})`}>
      <For each={cells()}>
        {(fill, i) => (
          <rect x={(i() * props.width) / 40} width={props.width / 40 + 0.5} height={8} fill={fill} />
        )}
      </For>
      <Index each={props.levels}>
        {(level) => (
          <g transform={`translate(${level().share * props.width} 0)`}>
            <line class="tick" y1={8} y2={12} />
            <text y={23} text-anchor="middle">
              {level().text}
            </text>
          </g>
        )}
      </Index>
      <foreignObject x={props.width + 14} y={-6} width="110" height="22">
        <span class="key-unit">
          <Text of={props.unit} />
        </span>
      </foreignObject>
    </g>
  );
}

function middle({ columns, rows, values }: Field2D): number {
  return values[(rows >> 1) * columns + (columns >> 1)];
}
