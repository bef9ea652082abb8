/** The photograph with what was found drawn over it, or one of the pictures that belong to it. */
import { createEffect, createMemo, For, type JSX, on, onCleanup, Show as When } from "solid-js";
import { createWidth } from "../figure/size.ts";
import { PLATE_MARGIN } from "../picture/plate.tsx";
import type { Theme } from "../state/theme.ts";
import { paintGrey, paintOver, type Pixels } from "./paint.ts";
import type { Comparison, EvidenceMark, GreyView, PhotoReading } from "./protocol.ts";

export const FACES = [
  "photograph",
  "cold",
  "lamp",
  "left over",
  "marks",
  "forecast",
  "blink",
  "difference",
  "overlay",
] as const;
export type Face = (typeof FACES)[number];

/** Light that must be left for the fitted curve to be drawn. */
const SEEN = 0.02;
/** Time each picture stands while they blink, ms: slow enough to be no flash. */
const BLINK = 700;

export interface PhotoPlateProps {
  readonly reading: PhotoReading;
  readonly name: string;
  readonly face: Face;
  readonly comparison: Comparison | undefined;
  readonly evidence: EvidenceMark | undefined;
  readonly theme: Theme;
  /** row of the curve through the hand marks at every column centre */
  readonly handRow: Float64Array | undefined;
  /** what lies over the picture, told the pixels of the screen for one of the photograph */
  readonly over?: ((px: number) => JSX.Element) | undefined;
}

export function PhotoPlate(props: PhotoPlateProps) {
  const { width, measure } = createWidth(800);
  const size = createMemo(() => {
    const { columns, rows } = props.reading.views.hot;
    const across = Math.max(120, width() - PLATE_MARGIN.left - PLATE_MARGIN.right);
    return { across, down: Math.round((across * rows) / columns), px: across / columns };
  });
  /** What was seen on the frame that is shown; faces of the photograph share its pixels. */
  const evidence = (): EvidenceMark | undefined =>
    props.evidence?.frame === (props.face === "cold" || props.face === "lamp" ? props.face : "hot")
      ? props.evidence
      : undefined;
  const bare = (): boolean => ["cold", "left over", "difference"].includes(props.face);
  return (
    <figure class="plate" ref={measure}>
      <figcaption class="unseen">
        {`${describe(props.face)} ${props.name}. ${props.reading.lines.map((line) => `${line.label} stands at column ${line.column.toFixed(1)}`).join("; ")}. ${props.reading.verdict.text}`}
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
              {Math.round(share * props.reading.views.hot.rows)}
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
        <Canvas {...props} />
        <svg class="plate-cursor" width={size().across} height={size().down} aria-hidden="true">
          <When
            when={props.face !== "lamp"}
            fallback={<LampMarks reading={props.reading} px={size().px} down={size().down} />}
          >
            <When when={!bare()}>
              <When
                when={props.handRow}
                fallback={<path class="fitted" d={curvePath(props.reading, size().px)} />}
              >
                {(row) => <path class="fitted" d={handPath(row(), size())} />}
              </When>
            </When>
            <For each={props.reading.lines}>
              {(line) => (
                <g transform={`translate(${line.column * size().px} 0)`}>
                  <line class="line-mark" y2={size().down} />
                  <text x={5} y={size().down - 8}>
                    {line.label}
                  </text>
                </g>
              )}
            </For>
            <When when={props.reading.zero?.column}>
              {(column) => (
                <g transform={`translate(${column() * size().px} 0)`}>
                  <line class="zero-mark" y2={size().down} />
                  <text x={5} y={16}>
                    zero of n − 1
                  </text>
                </g>
              )}
            </When>
          </When>
          <When when={evidence()}>
            {(mark) => (
              <rect
                class="evidence-mark"
                x={mark().column * size().px}
                y={mark().row * size().px}
                width={mark().width * size().px}
                height={mark().height * size().px}
              />
            )}
          </When>
        </svg>
        <When when={props.over}>{(over) => over()(size().px)}</When>
      </div>
    </figure>
  );
}

function describe(face: Face): string {
  const words: Readonly<Partial<Record<Face, string>>> = {
    cold: "The cold frame of",
    lamp: "The lamp frame of",
    "left over": "What the fit leaves over of",
    marks: "The marks set by hand on",
    forecast: "The forecast beside",
    blink: "Photograph and forecast in turn, of",
    difference: "The difference from the forecast of",
    overlay: "The forecast laid over",
  };
  return words[face] ?? "The fitted curve over";
}

function curvePath({ fitted: { column, row, transmission } }: PhotoReading, px: number): string {
  let d = "";
  let pen = false;
  for (let i = 0; i < column.length; i++) {
    const seen = transmission[i] >= SEEN;
    if (seen) d += `${pen ? "L" : "M"}${(column[i] * px).toFixed(1)} ${(row[i] * px).toFixed(1)}`;
    pen = seen;
  }
  return d;
}

/** The curve through the marks, cut where it leaves the picture. */
function handPath(row: Float64Array, { px, down }: { readonly px: number; readonly down: number }): string {
  let d = "";
  let pen = false;
  for (let c = 0; c < row.length; c++) {
    const y = row[c] * px;
    const seen = y > 0 && y < down;
    if (seen) d += `${pen ? "L" : "M"}${((c + 0.5) * px).toFixed(1)} ${y.toFixed(1)}`;
    pen = seen;
  }
  return d;
}

/** Lines of the lamp, those that have no name dashed. */
function LampMarks(props: { readonly reading: PhotoReading; readonly px: number; readonly down: number }) {
  return (
    <For each={props.reading.lamp.marks}>
      {(mark, i) => (
        <g transform={`translate(${mark.column * props.px} 0)`}>
          <line class={mark.names.length > 0 ? "line-found" : "line-mark"} y2={props.down} />
          <text
            x={mark.column > 0.9 * props.reading.views.hot.columns ? -5 : 5}
            y={18 + 16 * (i() % 6)}
            text-anchor={mark.column > 0.9 * props.reading.views.hot.columns ? "end" : "start"}
          >
            {mark.names.length > 0
              ? mark.names.map((name) => name.split(" ", 1)[0]).join(" + ")
              : "not named"}
          </text>
        </g>
      )}
    </For>
  );
}

function Canvas(props: PhotoPlateProps) {
  let canvas!: HTMLCanvasElement;
  const put = (size: GreyView, rgba: Pixels): void => {
    canvas.width = size.columns;
    canvas.height = size.rows;
    canvas
      .getContext("2d", { alpha: false })
      ?.putImageData(new ImageData(rgba, size.columns, size.rows), 0, 0);
  };
  createEffect(
    on(
      () => [props.reading, props.face, props.comparison, props.theme] as const,
      ([{ views }, face, comparison, theme]) => {
        const show = (view: GreyView | undefined): void => {
          if (view !== undefined) put(view, paintGrey(view, theme));
        };
        if (face === "cold" || face === "lamp") show(views[face]);
        else if (face === "left over") show(views.residual);
        else if (comparison === undefined || face === "photograph" || face === "marks") show(views.hot);
        else if (face === "overlay") put(views.hot, paintOver(views.hot, comparison.forecast, theme));
        else if (face === "blink") {
          let forecast = false;
          show(views.hot);
          const timer = setInterval(() => {
            forecast = !forecast;
            show(forecast ? comparison.forecast : views.hot);
          }, BLINK);
          onCleanup(() => clearInterval(timer));
        } else show(comparison[face]);
      },
    ),
  );
  return <canvas ref={canvas} data-face={props.face} />;
}
