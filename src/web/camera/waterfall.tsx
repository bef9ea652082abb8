/** The curve while the tube heats: one line of the figure for each kept reading, the newest at the bottom. */
import { createEffect } from "solid-js";
import type { Theme } from "../state/theme.ts";
import { type History, WATERFALL_COLUMNS } from "./history.ts";

/** Up is copper, down is blue; brightness is the light left. */
const UP = [240, 150, 90] as const;
const DOWN = [110, 160, 240] as const;
const LEVEL = [235, 230, 220] as const;

export function Waterfall(props: { readonly history: History; readonly theme: Theme }) {
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    const { rows } = props.history;
    const red = props.theme === "red";
    if (rows.length === 0) return;
    // The rows that there are fill the figure, however short the run.
    canvas.height = rows.length;
    const image = new ImageData(WATERFALL_COLUMNS, rows.length);
    let largest = 1;
    for (const { height } of rows)
      for (let c = 0; c < WATERFALL_COLUMNS; c++) largest = Math.max(largest, Math.abs(height[c]));
    rows.forEach(({ height, light }, r) => {
      for (let c = 0; c < WATERFALL_COLUMNS; c++) {
        // A square root, so that the gentle parts of the curve are seen beside its steep ends.
        const bend = Math.sign(height[c]) * Math.sqrt(Math.abs(height[c]) / largest);
        const ink = bend > 0 ? UP : DOWN;
        const at = 4 * (r * WATERFALL_COLUMNS + c);
        if (red) image.data[at] = 255 * light[c] * (0.5 + bend / 2);
        else
          for (let k = 0; k < 3; k++)
            image.data[at + k] = light[c] * (LEVEL[k] + Math.abs(bend) * (ink[k] - LEVEL[k]));
      }
    });
    for (let i = 3; i < image.data.length; i += 4) image.data[i] = 255;
    canvas.getContext("2d", { alpha: false })?.putImageData(image, 0, 0);
  });
  const seconds = () => {
    const { rows } = props.history;
    const [first, last] = [rows[0], rows.at(-1)];
    return first === undefined || last === undefined ? 0 : last.time - first.time;
  };
  return (
    <figure class="waterfall">
      <figcaption>
        {`The curve over the last ${span(seconds())}, newest below: ${props.theme === "red" ? "brighter is higher" : "copper bent up, blue bent down"}, dark where the light is gone.`}
      </figcaption>
      <canvas ref={canvas} width={WATERFALL_COLUMNS} height={1} />
    </figure>
  );
}

function span(seconds: number): string {
  return seconds < 90 ? `${seconds.toFixed(0)} s` : `${(seconds / 60).toFixed(0)} min`;
}
