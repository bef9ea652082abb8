/** The hot picture before it is read: set up where it lies on its side, and the part chosen in which to look. */
import { createEffect } from "solid-js";
import { createWidth } from "../figure/size.ts";
import type { Theme } from "../state/theme.ts";
import { BoxButtons, StepButtons } from "./box-buttons.tsx";
import type { Hand } from "./hand.ts";
import { MarksLayer } from "./marks-layer.tsx";
import type { Aim } from "./aim.ts";
import { paintGrey } from "./paint.ts";

export function AimPlate(props: { readonly aim: Aim; readonly hand: Hand; readonly theme: Theme }) {
  const { width, measure } = createWidth(800);
  const view = () => props.aim.view;
  const px = () => width() / view().columns;
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    const { columns, rows } = view();
    const rgba = paintGrey(view(), props.theme);
    canvas.width = columns;
    canvas.height = rows;
    canvas.getContext("2d", { alpha: false })?.putImageData(new ImageData(rgba, columns, rows), 0, 0);
  });
  return (
    <section class="measure-row aim" aria-label="Picture not read yet">
      <figure class="plate" ref={measure}>
        <figcaption class="unseen">
          {`${props.aim.photo.name}, ${view().columns} × ${view().rows} pixels, not read yet.`}
        </figcaption>
        <div
          class="plate-glass"
          ref={(element) =>
            createEffect(() => {
              element.style.height = `${px() * view().rows}px`;
            })
          }
        >
          <canvas ref={canvas} />
          <MarksLayer
            hand={props.hand}
            onRegion={(area) => props.hand.setRegion(props.aim.photo, area)}
            px={px()}
            columns={view().columns}
            rows={view().rows}
          />
        </div>
      </figure>
      <div class="measure-words">
        <p class="quiet">
          Not read yet. Drag across the picture, by mouse, pen or finger, to look only at that part of it. By
          keyboard: <em>look only in a part</em>, then move its corners with the arrow keys, ten pixels with
          Shift. A picture that lies on its side is set up by its lines when it is read; turn it here where
          they do not tell, or before anything is marked on it.
        </p>
        <div class="read-row">
          <BoxButtons hand={props.hand} />
          <button type="button" class="word" onClick={() => props.hand.turn("left")}>
            turn left
          </button>
          <button type="button" class="word" onClick={() => props.hand.turn("right")}>
            turn right
          </button>
          <StepButtons hand={props.hand} />
        </div>
      </div>
    </section>
  );
}
