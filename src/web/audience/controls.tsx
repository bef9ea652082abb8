/** In the first window: what the audience sees, one label at a time, and how deep their room is. */
import { createEffect, createMemo, createSignal, on, onCleanup, Show as When } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import type { Theme } from "../state/theme.ts";
import { quantity } from "../words/number.ts";
import type { Sight, SightPicture } from "../worker/protocol.ts";
import {
  AUDIENCE_SHOWS,
  type AudienceMessage,
  type AudienceShow,
  type AudienceState,
  CHANNEL,
  stepOf,
  stepped,
} from "./channel.ts";
import { followPicture } from "./follow.ts";
import { labelsOf } from "./labels.ts";
import { letterHeight } from "./letters.ts";
import { AudienceView } from "./view.tsx";

export function AudienceControls(props: {
  readonly sight: Sight | undefined;
  readonly picture: SightPicture | undefined;
  readonly deviceId: string | undefined;
  readonly theme: Theme;
}) {
  const [show, setShow] = createSignal<AudienceShow>("predicted");
  const [label, setLabel] = createSignal(-1);
  const [depth, setDepth] = createSignal(10);
  const [wallHeight, setWallHeight] = createSignal(1.5);
  const [here, setHere] = createSignal(false);
  const labels = createMemo(() => (props.sight === undefined ? [] : labelsOf(props.sight)));
  const state = createMemo(
    (): AudienceState => ({
      show: show(),
      label: label(),
      labels: labels(),
      deviceId: props.deviceId,
      depth: depth(),
      wallHeight: wallHeight(),
      theme: props.theme,
    }),
  );
  /** whether a second window has spoken */
  const [heard, setHeard] = createSignal(false);
  const picture = followPicture(
    () => props.picture,
    () => heard() || here(),
  );
  const step = (by: 1 | -1): void => void setLabel((was) => stepped(was, by, labels().length));

  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel(CHANNEL) : undefined;
  const post = (message: AudienceMessage): void => channel?.postMessage(message);
  const postPicture = (): void => {
    const now = picture();
    if (now !== undefined) post({ kind: "picture", picture: now });
  };
  if (channel !== undefined)
    channel.onmessage = ({ data }: MessageEvent<AudienceMessage>) => {
      if (data.kind === "step") step(data.by);
      setHeard(true);
      if (data.kind !== "hello") return;
      post({ kind: "state", state: state() });
      postPicture();
    };
  createEffect(on(state, (now) => post({ kind: "state", state: now })));
  createEffect(on(picture, postPicture));
  onCleanup(() => channel?.close());

  let stage: HTMLDivElement | undefined;
  let fullScreenButton: HTMLButtonElement | undefined;
  const fullScreen = async (): Promise<void> => {
    setHere(true);
    await stage?.requestFullscreen().catch(() => undefined);
    stage?.focus();
  };
  const onStageKey = (event: KeyboardEvent): void => {
    const by = stepOf(event.key);
    if (event.key === "Escape") {
      setHere(false);
      if (document.fullscreenElement !== null) void document.exitFullscreen();
      fullScreenButton?.focus();
    }
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    step(by);
  };
  const left = (): void => {
    if (document.fullscreenElement === null) setHere(false);
  };
  document.addEventListener("fullscreenchange", left);
  onCleanup(() => document.removeEventListener("fullscreenchange", left));
  const metres = (text: string, otherwise: number): number => {
    const value = Number(text.replace(",", "."));
    return value > 0 ? value : otherwise;
  };

  return (
    <section class="audience-controls" aria-label="For the audience">
      <h3>For the audience</h3>
      <div class="read-row">
        <button
          type="button"
          class="word strong"
          onClick={() => void open(new URL("./audience", location.origin), "crossprism-audience")}
        >
          open a second window
        </button>
        <button ref={fullScreenButton} type="button" class="word" onClick={() => void fullScreen()}>
          full screen here
        </button>
        <Choice label="What the audience sees" options={AUDIENCE_SHOWS} value={show()} onChoose={setShow} />
        <button type="button" class="word" onClick={() => step(-1)}>
          label before
        </button>
        <button type="button" class="word" onClick={() => step(1)}>
          next label
        </button>
      </div>
      <p role="status" class="audience-now">
        {label() < 0 ? "No label is shown." : `Shown: ${labels()[label()]?.text ?? ""}`}
      </p>
      <div class="read-row">
        <label for="room-depth">from the wall to the last row, m</label>
        <input
          id="room-depth"
          type="text"
          class="short"
          inputmode="decimal"
          value={depth()}
          onChange={(event) => setDepth(metres(event.currentTarget.value, depth()))}
        />
        <label for="wall-height">height of the projection, m</label>
        <input
          id="wall-height"
          type="text"
          class="short"
          inputmode="decimal"
          value={wallHeight()}
          onChange={(event) => setWallHeight(metres(event.currentTarget.value, wallHeight()))}
        />
        <span class="quiet">
          {`Letters ${quantity(letterHeight(depth()), "m")} high: twenty minutes of arc from the last row. Space or the arrow keys bring the labels, in either window; F fills the screen there.`}
        </span>
      </div>
      <When when={here()}>
        <div
          tabIndex={-1}
          ref={(element) => {
            stage = element;
            element.addEventListener("keydown", onStageKey);
          }}
        >
          <AudienceView state={state()} picture={picture()} />
        </div>
      </When>
    </section>
  );
}
