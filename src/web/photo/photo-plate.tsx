/** The photograph with the reading drawn over it, in the plate's place. */
import { createEffect, createMemo, For, Show as When } from "solid-js";
import { createWidth } from "../figure/size.ts";
import { PLATE_MARGIN } from "../picture/plate.tsx";
import type { PhotoReading } from "../worker/protocol.ts";

/** Light that must be left for the fitted curve to be drawn. */
const SEEN = 0.02;

export function PhotoPlate(props: { readonly reading: PhotoReading; readonly name: string }) {
  const { width, measure } = createWidth(800);
  const size = createMemo(() => {
    const { columns, rows } = props.reading.picture;
    const across = Math.max(120, width() - PLATE_MARGIN.left - PLATE_MARGIN.right);
    return { across, down: Math.round((across * rows) / columns), px: across / columns };
  });
  const path = createMemo(() => {
    const { column, row, transmission } = props.reading.fitted;
    let d = "";
    let pen = false;
    for (let i = 0; i < column.length; i++) {
      const seen = transmission[i] >= SEEN;
      if (seen)
        d += `${pen ? "L" : "M"}${(column[i] * size().px).toFixed(1)} ${(row[i] * size().px).toFixed(1)}`;
      pen = seen;
    }
    return d;
  });
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    const { columns, rows, rgba } = props.reading.picture;
    canvas.width = columns;
    canvas.height = rows;
    canvas.getContext("2d", { alpha: false })?.putImageData(new ImageData(rgba, columns, rows), 0, 0);
  });
  return (
    <figure class="plate" ref={measure}>
      <figcaption class="unseen">
        {`The photograph ${props.name} with the fitted curve drawn over it. ${props.reading.lines.map((line) => `${line.label} stands at column ${line.column.toFixed(1)}`).join("; ")}. ${props.reading.verdict.text}`}
      </figcaption>
      <svg class="plate-scales" width={width()} height={size().down + 34} aria-hidden="true">
        <For each={props.reading.scale}>
          {(tick) => (
            <g transform={`translate(${PLATE_MARGIN.left + tick.at * size().px} ${size().down})`}>
              <line class="tick" y2={5} />
              <text y={18} text-anchor="middle">
                {tick.text}
              </text>
            </g>
          )}
        </For>
        <For each={[0, 0.5, 1]}>
          {(share) => (
            <text
              x={PLATE_MARGIN.left - 8}
              y={share * size().down}
              dy={share === 0 ? "0.8em" : share === 1 ? "0em" : "0.32em"}
              text-anchor="end"
            >
              {Math.round(share * props.reading.picture.rows)}
            </text>
          )}
        </For>
        <text class="name" x={PLATE_MARGIN.left} y={size().down + 31}>
          row of the photograph, pixels from the top
        </text>
        <text class="name" x={PLATE_MARGIN.left + size().across} y={size().down + 31} text-anchor="end">
          wavelength, nm vacuum
        </text>
      </svg>
      <div
        class="plate-glass"
        ref={(element) =>
          createEffect(() => {
            element.style.left = `${PLATE_MARGIN.left}px`;
            element.style.width = `${size().across}px`;
            element.style.height = `${size().down}px`;
          })
        }
      >
        <canvas ref={canvas} />
        <svg class="plate-cursor" width={size().across} height={size().down} aria-hidden="true">
          <path class="fitted" d={path()} />
          <For each={props.reading.lines}>
            {(line) => (
              <g transform={`translate(${line.column * size().px} 0)`}>
                <line class="line-mark" y2={size().down} />
                <When when={line.label !== ""}>
                  <text x={5} y={size().down - 8}>
                    {line.label}
                  </text>
                </When>
              </g>
            )}
          </For>
        </svg>
      </div>
    </figure>
  );
}
