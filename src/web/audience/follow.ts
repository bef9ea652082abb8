/** The predicted picture for the audience, also while a hand drags: then a worker draws it on the plate, and it is read back from there. */
import { type Accessor, createEffect, createSignal, on, onCleanup } from "solid-js";
import type { SightPicture } from "../worker/protocol.ts";
import type { AudiencePicture } from "./channel.ts";

/** Shortest time between two pictures read back, ms: each costs the dragging hand a few. */
const PACE = 120;
/** Widest picture read back, pixels. */
const WIDEST = 960;

/**
 * @param watched false while nobody looks: then only pictures that rest are taken, which come as bytes anyhow
 */
export function followPicture(
  picture: Accessor<SightPicture | undefined>,
  watched: Accessor<boolean>,
): Accessor<AudiencePicture | undefined> {
  const [shown, setShown] = createSignal<AudiencePicture>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let lastAt = Number.NEGATIVE_INFINITY;
  const stop = (): void => {
    clearTimeout(timer);
    timer = undefined;
  };
  createEffect(
    on(picture, (now) => {
      if (now === undefined) return;
      const { columns, rows, rgba } = now;
      if (rgba !== undefined) {
        stop();
        setShown({ columns, rows, rgba });
      } else if (watched() && timer === undefined)
        timer = setTimeout(
          () => {
            timer = undefined;
            lastAt = performance.now();
            const read = readBack();
            if (read !== undefined) setShown(read);
          },
          Math.max(0, lastAt + PACE - performance.now()),
        );
    }),
  );
  onCleanup(stop);
  return shown;
}

/** What stands on the canvas under the plate's upper one. */
function readBack(): AudiencePicture | undefined {
  const drawn = document.querySelector(".plate-glass canvas.upper")?.previousElementSibling;
  if (!(drawn instanceof HTMLCanvasElement) || drawn.width === 0) return undefined;
  const columns = Math.min(WIDEST, drawn.width);
  const rows = Math.round((drawn.height * columns) / drawn.width);
  const copy = new OffscreenCanvas(columns, rows).getContext("2d", {
    alpha: false,
    willReadFrequently: true,
  });
  copy?.drawImage(drawn, 0, 0, columns, rows);
  const rgba = copy?.getImageData(0, 0, columns, rows).data;
  return rgba === undefined ? undefined : { columns, rows, rgba };
}
