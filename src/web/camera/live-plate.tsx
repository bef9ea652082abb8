/** The live picture with the curve just read over it, and the predicted one dashed. */
import { createEffect, createMemo, Show as When } from "solid-js";
import { createWidth } from "../figure/size.ts";
import { paintGrey } from "../measure/paint.ts";
import type { GlanceAnswer } from "../measure/protocol.ts";
import type { Theme } from "../state/theme.ts";
import type { Sight } from "../worker/protocol.ts";
import type { Live } from "./live.ts";

const SEEN = 0.05;

export function LivePlate(props: {
  readonly live: Live;
  readonly sight: Sight | undefined;
  readonly theme: Theme;
  readonly predicted: boolean;
}) {
  const { width, measure } = createWidth(800);
  const size = createMemo(() => {
    const answer = props.live.answer();
    const [columns, rows] = answer === undefined ? [4, 3] : [answer.columns, answer.rows];
    return { down: Math.round((width() * rows) / columns), px: width() / columns };
  });
  const readPath = createMemo(() => {
    const glance = props.live.answer()?.glance;
    if (glance === undefined) return "";
    return pathOver(glance.row, glance.transmission, (i) => i + 0.5, size().px);
  });
  const predictedPath = createMemo(() => {
    const { sight } = props;
    if (sight === undefined || !props.predicted) return "";
    const { column, row, transmission } = sight.curve;
    // The same field of view in the camera's own pixels.
    const px = width() / sight.setup.camera.columns;
    return pathOver(
      row,
      transmission,
      (i) => column[i],
      px,
      size().down / 2 - (px * sight.setup.camera.rows) / 2,
    );
  });
  return (
    <div class="live-glass" ref={measure}>
      <video ref={props.live.attach} muted playsinline autoplay aria-label="Live picture of the camera" />
      <When when={props.live.answer()?.view}>{(view) => <Averaged view={view()} theme={props.theme} />}</When>
      <svg class="plate-cursor" width={width()} height={size().down} aria-hidden="true">
        <path class="predicted" d={predictedPath()} />
        <path class="fitted" d={readPath()} />
      </svg>
    </div>
  );
}

function pathOver(
  row: ArrayLike<number>,
  light: ArrayLike<number>,
  columnAt: (i: number) => number,
  px: number,
  down = 0,
): string {
  let d = "";
  let pen = false;
  for (let i = 0; i < row.length; i++) {
    const seen = light[i] > SEEN;
    if (seen) d += `${pen ? "L" : "M"}${(columnAt(i) * px).toFixed(1)} ${(row[i] * px + down).toFixed(1)}`;
    pen = seen;
  }
  return d;
}

function Averaged(props: { readonly view: NonNullable<GlanceAnswer["view"]>; readonly theme: Theme }) {
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    const { columns, rows } = props.view;
    if (canvas.width !== columns) canvas.width = columns;
    if (canvas.height !== rows) canvas.height = rows;
    canvas
      .getContext("2d", { alpha: false })
      ?.putImageData(new ImageData(paintGrey(props.view, props.theme), columns, rows), 0, 0);
  });
  return <canvas ref={canvas} />;
}
