/** What the audience sees: the picture, or the camera's, or both, black around them, and one plain sentence at a time. */
import { createEffect, createMemo, createSignal, on, onCleanup, onMount, Show as When } from "solid-js";
import type { AudiencePicture, AudienceState } from "./channel.ts";
import { fontSize } from "./letters.ts";
import "./audience.css";

export function AudienceView(props: {
  readonly state: AudienceState;
  readonly picture: AudiencePicture | undefined;
}) {
  const [height, setHeight] = createSignal(innerHeight);
  let root!: HTMLDivElement;
  onMount(() => {
    const resize = (): void => void setHeight(innerHeight);
    addEventListener("resize", resize);
    onCleanup(() => removeEventListener("resize", resize));
  });
  createEffect(() => {
    const { depth, wallHeight } = props.state;
    root.style.setProperty("--letters", `${fontSize(depth, wallHeight, height()).toFixed(1)}px`);
  });
  const label = () => props.state.labels[props.state.label];
  const wantsLive = () => props.state.show !== "predicted";
  const wantsPicture = () => props.state.show !== "live";
  return (
    <div class="audience" ref={root} data-show={props.state.show}>
      <div class="audience-pictures">
        <When when={wantsLive()}>
          <Live deviceId={props.state.deviceId} />
        </When>
        <When when={wantsPicture() && props.picture}>
          {(picture) => <Predicted picture={picture()} at={label()?.at} />}
        </When>
      </div>
      <p class="audience-words" role="status">
        {label()?.text ?? ""}
      </p>
    </div>
  );
}

function Predicted(props: {
  readonly picture: AudiencePicture;
  readonly at: { readonly x: number; readonly y: number } | undefined;
}) {
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    const { columns, rows, rgba } = props.picture;
    canvas.width = columns;
    canvas.height = rows;
    canvas.getContext("2d", { alpha: false })?.putImageData(new ImageData(rgba, columns, rows), 0, 0);
  });
  const box = createMemo(() => `0 0 ${props.picture.columns} ${props.picture.rows}`);
  return (
    <div class="audience-picture">
      <canvas ref={canvas} role="img" aria-label="The predicted picture" />
      <svg viewBox={box()} aria-hidden="true">
        <When when={props.at}>
          {(at) => (
            <circle
              cx={at().x * props.picture.columns}
              cy={at().y * props.picture.rows}
              r={props.picture.columns / 28}
              stroke-width={props.picture.columns / 220}
            />
          )}
        </When>
      </svg>
    </div>
  );
}

function Live(props: { readonly deviceId: string | undefined }) {
  const [said, setSaid] = createSignal("");
  let video!: HTMLVideoElement;
  let stream: MediaStream | undefined;
  const drop = (): void => {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = undefined;
  };
  createEffect(
    on(
      () => props.deviceId,
      (deviceId) => {
        drop();
        if (deviceId === undefined) {
          setSaid("The camera is not open.");
          return;
        }
        navigator.mediaDevices
          .getUserMedia({ audio: false, video: { deviceId: { ideal: deviceId }, width: { ideal: 1280 } } })
          .then((opened) => {
            stream = opened;
            video.srcObject = opened;
            setSaid("");
          })
          .catch(() => setSaid("The camera cannot be shown here."));
      },
    ),
  );
  onCleanup(drop);
  return (
    <div class="audience-picture">
      <video ref={video} muted autoplay playsinline aria-label="Live picture of the camera" />
      <When when={said()}>{(sentence) => <p class="audience-words">{sentence()}</p>}</When>
    </div>
  );
}
