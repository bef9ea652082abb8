/** A table of densities or temperatures painted with the page's ramp, at a place inside its parent. */
import { createEffect } from "solid-js";
import type { Field2D } from "../worker/protocol.ts";
import { rampFor } from "./ramp.ts";

export function FieldImage(props: {
  readonly field: Field2D;
  readonly theme: string;
  readonly class?: string;
  readonly left?: number;
  readonly top?: number;
  readonly width: number;
  readonly height: number;
  /** value painted lightest; zero where not given */
  readonly from?: number;
  /** value painted darkest; the table's largest where not given */
  readonly to?: number;
}) {
  let canvas!: HTMLCanvasElement;
  createEffect(() => paint(canvas, props.field, props.theme, props.from ?? 0, props.to));
  createEffect(() => {
    const { style } = canvas;
    style.left = `${props.left ?? 0}px`;
    style.top = `${props.top ?? 0}px`;
    style.width = `${props.width}px`;
    style.height = `${props.height}px`;
  });
  return <canvas ref={canvas} class={props.class ?? "field-image"} />;
}

function paint(canvas: HTMLCanvasElement, field: Field2D, theme: string, from: number, to?: number): void {
  const context = canvas.getContext("2d");
  if (context === null) return;
  if (canvas.width !== field.columns) canvas.width = field.columns;
  if (canvas.height !== field.rows) canvas.height = field.rows;
  const image = context.createImageData(field.columns, field.rows);
  const pixels = new Uint32Array(image.data.buffer);
  const ramp = rampFor(theme);
  let largest = to ?? Number.NEGATIVE_INFINITY;
  if (to === undefined) for (const value of field.values) if (value > largest) largest = value;
  const scale = 255 / (largest - from || 1);
  for (let i = 0; i < pixels.length; i++) {
    const value = field.values[i];
    pixels[i] = ramp[Math.max(0, Math.min(255, Math.round((value - from) * scale)))];
  }
  context.putImageData(image, 0, 0);
}
