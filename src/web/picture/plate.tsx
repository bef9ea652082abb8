/**
 * The picture, hung from the camera like the plate of a printed page: the light on black, a scale of wavelengths under
 * it, heights on the sensor at its left and angles at the tube at its right, and one line that reads.
 */
import { createEffect, createMemo, For, Index, type JSX, onMount, Show as When } from "solid-js";
import { CursorHandle } from "../figure/cursor-handle.tsx";
import { nearestIndex } from "../figure/scale.ts";
import { createWidth } from "../figure/size.ts";
import type { View } from "../state/bench.ts";
import { linesAt } from "../words/reading-at.ts";
import { Text } from "../words/text.tsx";
import type { Sight, SightPicture } from "../worker/protocol.ts";
import { heightTicks, interpolate, wavelengthTicks } from "./axes.ts";

/** Room for the scales at the left and right, shared with the figure under the plate. */
export const PLATE_MARGIN = { left: 50, right: 50 } as const;
const BELOW = 34;

export interface PlateProps {
  readonly picture: SightPicture | undefined;
  readonly sight: Sight;
  /** what the picture shows, in words and numbers */
  readonly words: string;
  readonly view: View;
  readonly onCursor: (wavelength: number) => void;
  /** a canvas on which pictures that follow a hand may be drawn */
  readonly onCanvas: (canvas: OffscreenCanvas) => void;
  readonly children?: JSX.Element;
}

export function Plate(props: PlateProps) {
  const { width, measure } = createWidth(800);
  const size = createMemo(() => {
    // A coarse picture has fewer pixels; every scale is in pixels of the camera.
    const { columns, rows } = props.sight.setup.camera;
    const across = Math.max(120, width() - PLATE_MARGIN.left - PLATE_MARGIN.right);
    return { across, down: Math.round((across * rows) / columns), columns, rows };
  });
  const px = () => size().across / size().columns;
  const medium = () => props.view.wavelengths;

  const index = createMemo(() =>
    props.view.cursor === null ? undefined : nearestIndex(props.sight.curve.wavelength, props.view.cursor),
  );
  const cursorColumn = () => {
    const i = index();
    return i === undefined ? undefined : props.sight.curve.column[i];
  };
  const toWavelength = (column: number): number =>
    interpolate(props.sight.curve.column, props.sight.curve.wavelength, column);
  const moveTo = (event: PointerEvent & { currentTarget: HTMLElement }): void => {
    const bounds = event.currentTarget.getBoundingClientRect();
    const column = ((event.clientX - bounds.left) / bounds.width) * size().columns;
    props.onCursor(toWavelength(Math.min(size().columns, Math.max(0, column))));
  };
  const reading = createMemo(() => {
    const i = index();
    return i === undefined ? [] : linesAt(props.sight.curve, i, medium());
  });
  const mm = () => heightTicks(size().rows, props.sight.setup.camera.pixel * 1e3, 6);
  const mrad = () => heightTicks(size().rows, props.sight.radPerRow * 1e3, 6);
  const nm = () =>
    wavelengthTicks(props.sight.curve, size().columns, medium(), Math.max(3, Math.round(size().across / 80)));

  return (
    <figure class="plate" ref={measure}>
      <figcaption class="unseen">{props.words}</figcaption>
      <svg class="plate-scales" width={width()} height={size().down + BELOW} aria-hidden="true">
        <Index each={mm()}>
          {(tick) => (
            <g transform={`translate(${PLATE_MARGIN.left} ${tick().at * px()})`}>
              <line class="tick" x1={-5} />
              <text x={-8} dy="0.32em" text-anchor="end">
                {tick().text}
              </text>
            </g>
          )}
        </Index>
        <Index each={mrad()}>
          {(tick) => (
            <g transform={`translate(${PLATE_MARGIN.left + size().across} ${tick().at * px()})`}>
              <line class="tick" x1={5} />
              <text x={8} dy="0.32em">
                {tick().text}
              </text>
            </g>
          )}
        </Index>
        <Index each={nm()}>
          {(tick) => (
            <g transform={`translate(${PLATE_MARGIN.left + tick().at * px()} ${size().down})`}>
              <line class="tick" y2={5} />
              <text y={18} text-anchor="middle">
                {tick().text}
              </text>
            </g>
          )}
        </Index>
        <text class="name" x={PLATE_MARGIN.left - 8} y={size().down + 18} text-anchor="end">
          mm
        </text>
        <text class="name" x={PLATE_MARGIN.left + size().across + 8} y={size().down + 18}>
          mrad
        </text>
        <text class="name" x={PLATE_MARGIN.left + size().across} y={size().down + 31} text-anchor="end">
          {`wavelength, nm ${medium()}`}
        </text>
        <text class="name" x={PLATE_MARGIN.left} y={size().down + 31}>
          height on the sensor, mm; angle at the tube, mrad
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
        onPointerMove={(event) => {
          if (event.pointerType === "mouse" || event.buttons > 0) moveTo(event);
        }}
        onPointerDown={moveTo}
      >
        <Light picture={props.picture} onCanvas={props.onCanvas} />
        {props.children}
        <When when={cursorColumn()}>
          {(column) => (
            <>
              <svg class="plate-cursor" width={size().across} height={size().down} aria-hidden="true">
                <line x1={column() * px()} x2={column() * px()} y1={0} y2={size().down} />
              </svg>
              <div
                class="plate-reading"
                classList={{ "to-the-left": column() > size().columns * 0.56 }}
                ref={(element) =>
                  createEffect(() => {
                    const x = column() * px();
                    const flips = column() > size().columns * 0.56;
                    element.style.left = flips ? "auto" : `${x}px`;
                    element.style.right = flips ? `${size().across - x}px` : "auto";
                  })
                }
                aria-hidden="true"
              >
                <For each={reading()}>
                  {(line) => (
                    <p>
                      <Text of={line} />
                    </p>
                  )}
                </For>
              </div>
            </>
          )}
        </When>
        <CursorHandle
          label="Line in the picture"
          from={0}
          to={size().columns}
          at={cursorColumn() ?? null}
          text={reading().length === 0 ? "not set; the arrow keys move it" : reading().join("; ")}
          onMove={(column) => props.onCursor(toWavelength(column))}
        />
      </div>
    </figure>
  );
}

/** Two canvases, one on the other: the upper holds pictures that came as bytes, the lower those that a worker draws by itself. */
function Light(props: {
  readonly picture: SightPicture | undefined;
  readonly onCanvas: (canvas: OffscreenCanvas) => void;
}) {
  let upper!: HTMLCanvasElement;
  let lower!: HTMLCanvasElement;
  onMount(() => {
    if ("transferControlToOffscreen" in lower) props.onCanvas(lower.transferControlToOffscreen());
  });
  createEffect(() => {
    if (props.picture === undefined) return;
    const { columns, rows, rgba } = props.picture;
    upper.style.visibility = rgba === undefined ? "hidden" : "visible";
    if (rgba === undefined) return;
    if (upper.width !== columns) upper.width = columns;
    if (upper.height !== rows) upper.height = rows;
    upper.getContext("2d", { alpha: false })?.putImageData(new ImageData(rgba, columns, rows), 0, 0);
  });
  return (
    <>
      <canvas ref={lower} />
      <canvas ref={upper} class="upper" />
    </>
  );
}
