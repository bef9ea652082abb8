/** A small predicted picture: a negative for paper and light rooms, light on dark in dark ones. */
import { createMemo, onCleanup } from "solid-js";
import type { RunPicture } from "../../plan/run-pictures.ts";

export function Picture(props: {
  readonly image: RunPicture;
  readonly caption: string;
  readonly theme: string;
}) {
  const address = createMemo(() => {
    const url = URL.createObjectURL(
      new Blob([props.image.png as Uint8Array<ArrayBuffer>], { type: "image/png" }),
    );
    onCleanup(() => URL.revokeObjectURL(url));
    return url;
  });
  return (
    <figure class="step-picture" classList={{ positive: props.theme !== "paper" }}>
      <img
        src={address()}
        width={props.image.columns}
        height={props.image.rows}
        alt={`predicted picture: ${props.caption}`}
      />
      <figcaption class="quiet">{props.caption}</figcaption>
    </figure>
  );
}
