/** Density across the bore and along it, with axes in millimetres and a scale of what the ramp means. */
import { For, Index } from "solid-js";
import { spoken } from "../words/number.ts";
import { significant } from "../words/number.ts";
import { Powers } from "./plot.tsx";
import { FieldImage } from "./field-image.tsx";
import type { FigureProps } from "./props.ts";
import { powerOf, ticksOf } from "./scale.ts";
import { createWidth } from "./size.ts";
import { rampFor } from "./ramp.ts";

export function Sections(props: FigureProps & { readonly summary: string }) {
  const { width, measure } = createWidth(180);
  const height = () => (props.large ? 420 : 112);
  const left = () => (props.large ? 44 : 26);
  const side = () => height() - (props.large ? 96 : 56);
  const gap = () => (props.large ? 60 : 20);
  const longWidth = () => Math.max(40, width() - left() - side() - gap() - 16);
  const top = 16;
  const cross = () => props.sight.cross;
  const long = () => props.sight.long;
  const half = () => (cross().width / 2) * 1e3;
  const halfLong = () => (long().width / 2) * 1e3;
  const y = (mm: number): number => top + side() / 2 - (mm / half()) * (side() / 2);
  const largest = () => cross().values.reduce((most, value) => Math.max(most, value), 0);
  const power = () => powerOf(largest());
  const beam = () => props.sight.setup.path;

  return (
    <figure class="plot">
      <figcaption class="unseen">{spoken(`Density in the bore. ${props.summary}`)}</figcaption>
      <div class="plot-body sections" ref={measure}>
        <FieldImage
          class="field-image round"
          field={cross()}
          theme={props.theme}
          left={left()}
          top={top}
          width={side()}
          height={side()}
        />
        <FieldImage
          field={long()}
          theme={props.theme}
          left={left() + side() + gap()}
          top={top}
          width={longWidth()}
          height={side()}
        />
        <svg width={width()} height={height()} aria-hidden="true">
          <circle class="frame" cx={left() + side() / 2} cy={top + side() / 2} r={side() / 2} />
          <rect
            class="beam"
            x={left() + side() / 2 - ((beam().beamWidth / 2) * 1e3 * (side() / 2)) / half()}
            y={y((beam().beamHeight + beam().beamSize / 2) * 1e3)}
            width={(beam().beamWidth * 1e3 * (side() / 2)) / half()}
            height={(beam().beamSize * 1e3 * (side() / 2)) / half()}
          />
          <rect class="frame" x={left() + side() + gap()} y={top} width={longWidth()} height={side()} />
          <g class="axis">
            <text class="name" x={0} y={9}>
              mm
            </text>
            <Index
              each={ticksOf({ label: "", unit: "", from: -half(), to: half(), ticks: props.large ? 8 : 2 })}
            >
              {(tick) => (
                <g transform={`translate(${left()} ${y(tick().value)})`}>
                  <line class="tick" x1={-4} />
                  <text x={-6} dy="0.32em" text-anchor="end">
                    {tick().text}
                  </text>
                </g>
              )}
            </Index>
            <Index
              each={ticksOf({ label: "", unit: "", from: -half(), to: half(), ticks: props.large ? 4 : 2 })}
            >
              {(tick) => (
                <g
                  transform={`translate(${left() + side() / 2 + (tick().value / half()) * (side() / 2)} ${top + side()})`}
                >
                  <line class="tick" y2={4} />
                  <text y={15} text-anchor="middle">
                    {tick().text}
                  </text>
                </g>
              )}
            </Index>
            <Index
              each={ticksOf({
                label: "",
                unit: "",
                from: props.large ? -halfLong() : 0,
                to: halfLong(),
                ticks: props.large ? 8 : 1,
              })}
            >
              {(tick) => (
                <g
                  transform={`translate(${left() + side() + gap() + longWidth() / 2 + (tick().value / halfLong()) * (longWidth() / 2)} ${top + side()})`}
                >
                  <line class="tick" y2={4} />
                  <text y={15} text-anchor="middle">
                    {tick().text}
                  </text>
                </g>
              )}
            </Index>
            <text class="name" x={left()} y={top + side() + 28}>
              across
            </text>
            <text class="name" x={left() + side() + gap()} y={top + side() + 28}>
              along
            </text>
          </g>
        </svg>
        <Key
          theme={props.theme}
          left={props.large ? left() + side() + gap() + 60 : left() + side() + gap() + 36}
          top={top + side() + 19}
          width={props.large ? 200 : Math.max(20, longWidth() - 44)}
          text={props.large ? `0 to ${significant(largest(), 2)}\u202fm^\u22123` : ""}
          power={power()}
        />
      </div>
    </figure>
  );
}

/** What the ramp means: nothing at the left, the densest at the right. */
function Key(props: {
  readonly theme: string;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly text: string;
  readonly power: number;
}) {
  const colours = () => {
    const ramp = rampFor(props.theme);
    return Array.from({ length: 24 }, (_, i) => {
      const c = ramp[Math.round((i * 255) / 23)] ?? 0;
      return `rgb(${c & 255} ${(c >>> 8) & 255} ${(c >>> 16) & 255})`;
    });
  };
  return (
    <svg class="key" width={props.left + props.width + 190} height={props.top + 20} aria-hidden="true">
      <For each={colours()}>
        {(fill, i) => (
          <rect
            fill={fill}
            x={props.left + (i() * props.width) / 24}
            y={props.top}
            width={props.width / 24 + 0.5}
            height={8}
          />
        )}
      </For>
      <text class="name" x={props.left + props.width + 8} y={props.top + 8}>
        <Powers of={props.text} />
      </text>
    </svg>
  );
}
