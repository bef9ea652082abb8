/** The leaf of the live camera: set it up, watch the curve grow, read it while it does, keep what is worth keeping. */
import { createEffect, createSignal, For, Show as When } from "solid-js";
import { AudienceControls } from "../audience/controls.tsx";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { keepPicture } from "../measure/notebook.ts";
import { saveFile } from "../measure/save-file.ts";
import { quantity } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import { createLive } from "./live.ts";
import { LivePlate } from "./live-plate.tsx";
import { Meters } from "./meters.tsx";
import { createCamera } from "./stream.ts";
import { Trends } from "./trends.tsx";
import { Waterfall } from "./waterfall.tsx";
import "../measure/measure.css";
import "./camera.css";

const AVERAGES = ["1", "4", "16", "64"] as const;

export default function Photograph(props: LeafProps) {
  const camera = createCamera();
  const live = createLive(() => props.store.bench().setup, camera.stream, props.startReader);
  const [predicted, setPredicted] = createSignal<"with the prediction" | "without">("with the prediction");
  const [kept, setKept] = createSignal("");
  /** what a capture is of: the notebook wants to know */
  const [role, setRole] = createSignal<"hot" | "cold" | "lamp" | "dark">("hot");
  let captureButton: HTMLButtonElement | undefined;
  let notebook = true;
  createEffect(() => {
    if (camera.state() === "live") captureButton?.focus();
  });

  const opened = (): boolean => camera.state() === "live" || camera.state() === "unplugged";
  const capture = async (): Promise<void> => {
    setKept("taking the frame…");
    try {
      const png = await live.capture();
      const name = `${role()}-${new Date().toISOString().slice(0, 19).replaceAll(":", "")}.png`;
      setKept(await keep(png, name));
    } catch (fault) {
      setKept(fault instanceof Error ? fault.message : String(fault));
    }
  };
  /** Into the notebook where one is open, else into the downloads. */
  const keep = async (png: Uint8Array<ArrayBuffer>, name: string): Promise<string> => {
    if (notebook) {
      try {
        const text = `live camera, ${live.average()} frames averaged`;
        const id = await keepPicture(png, name, role(), text);
        return `${name} is entry ${id} of the notebook.`;
      } catch (fault) {
        if (!/no notebook/i.test(String(fault))) throw fault;
        notebook = false;
      }
    }
    saveFile(new Blob([png], { type: "image/png" }), name);
    return `${name} is in the downloads; no notebook is open.`;
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key.toLowerCase() !== "c" || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target instanceof HTMLInputElement && !["radio", "checkbox"].includes(event.target.type))
      return;
    event.preventDefault();
    void capture();
  };

  return (
    <div class="photograph" ref={(element) => element.addEventListener("keydown", onKey)}>
      <div class="read-row">
        {/* One button for both, so that it keeps the focus. */}
        <button
          type="button"
          class="word"
          classList={{ strong: !opened() }}
          disabled={camera.state() === "asking"}
          onClick={() => (opened() ? camera.close() : camera.open())}
        >
          {opened() ? "put the camera away" : "open the camera"}
        </button>
        <When when={camera.devices().length > 1}>
          <label for="camera-device">camera</label>
          <select id="camera-device" onChange={(event) => camera.open(event.currentTarget.value)}>
            <For each={camera.devices()}>
              {(device, i) => (
                <option value={device.deviceId} selected={device.deviceId === camera.deviceId()}>
                  {device.label || `camera ${i() + 1}`}
                </option>
              )}
            </For>
          </select>
        </When>
        <p role="status" data-camera={camera.state()}>
          {camera.said()}
        </p>
      </div>
      <When when={opened()}>
        <ul class="locks" aria-label="What the camera holds still">
          <For each={camera.locks()}>
            {(lock) => <li classList={{ alarm: !lock.locked }}>{lock.warning ?? `${lock.name} locked`}</li>}
          </For>
        </ul>
        <div class="measure-row">
          <div>
            <LivePlate
              live={live}
              sight={props.sights.sight()}
              theme={props.theme.theme()}
              predicted={predicted() === "with the prediction"}
            />
            <p class="quiet">Over the picture, solid: the curve just read; dashed: the curve foretold.</p>
            <div class="read-row">
              <Choice
                label="The predicted curve"
                options={["with the prediction", "without"] as const}
                value={predicted()}
                onChoose={setPredicted}
              />
              <Choice
                label="Frames averaged"
                options={AVERAGES}
                words={{ "1": "single frames", "4": "4 averaged", "16": "16", "64": "64" }}
                value={String(live.average()) as (typeof AVERAGES)[number]}
                onChoose={(frames) => live.setAverage(Number(frames))}
              />
            </div>
            <div class="read-row">
              <button ref={captureButton} type="button" class="word strong" onClick={() => void capture()}>
                capture (C)
              </button>
              <Choice
                label="What the capture is"
                options={["hot", "cold", "lamp", "dark"] as const}
                value={role()}
                onChoose={setRole}
              />
              <button
                type="button"
                class="word"
                onClick={() => (live.answer()?.coldKept === true ? live.forgetCold() : live.takeCold())}
              >
                {live.answer()?.coldKept === true ? "forget the cold line" : "this is the cold line"}
              </button>
            </div>
            <p role="status" class="kept-words">
              {kept()}
            </p>
          </div>
          <div class="live-words">
            <When when={live.answer()} fallback={<p class="quiet">Waiting for the first frame…</p>}>
              {(answer) => <Meters meter={answer().meter} bent={answer().glance !== undefined} />}
            </When>
          </div>
        </div>
        <Reading live={live} />
        <When when={live.history().rows.length > 1}>
          <div class="measure-row">
            <Trends
              history={live.history()}
              sight={props.sights.sight()}
              setup={props.store.bench().setup}
              startReader={props.startReader}
            />
            <Waterfall history={live.history()} theme={props.theme.theme()} />
          </div>
        </When>
      </When>
      <AudienceControls
        sight={props.sights.sight()}
        picture={props.sights.picture()}
        deviceId={camera.state() === "live" ? camera.deviceId() : undefined}
        theme={props.theme.theme()}
      />
    </div>
  );
}

function Reading(props: { readonly live: ReturnType<typeof createLive> }) {
  const glance = () => props.live.answer()?.glance;
  return (
    <section class="live-reading" aria-label="Live reading">
      <When
        when={glance()}
        fallback={<p>{props.live.answer()?.refused ?? props.live.trouble() ?? "No reading yet."}</p>}
      >
        {(now) => (
          <p class="live-numbers">
            <span>
              column gradient{" "}
              <data class="live-gradient" value={now().columnGradient}>
                <Text of={quantity(now().columnGradient, "m-3")} />
              </data>
            </span>
            <span>
              column density{" "}
              <data class="live-density" value={now().columnDensity}>
                <Text of={quantity(now().columnDensity, "m-2")} />
              </data>
            </span>
          </p>
        )}
      </When>
      <p class="quiet">
        <data
          class="live-rate"
          value={props.live.rate()}
        >{`${props.live.rate().toFixed(1)} readings a second`}</data>
        {", each "}
        <data class="live-lag" value={props.live.lag()}>{`${(1000 * props.live.lag()).toFixed(0)} ms`}</data>
        {" after its frame; "}
        <data class="live-readings" value={props.live.readings()}>{`${props.live.readings()} so far`}</data>
        {`, ${props.live.passedOver()} frames passed over. A quick reading: good to about 3 %, without uncertainties; measure what you capture.`}
      </p>
    </section>
  );
}
