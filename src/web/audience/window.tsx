/** The second window: shows what the first one says, and passes keys on. */
import { createSignal, Show as When } from "solid-js";
import { render } from "solid-js/web";
import {
  type AudienceMessage,
  type AudiencePicture,
  type AudienceState,
  CHANNEL,
  stepOf,
  stepped,
} from "./channel.ts";
import { AudienceView } from "./view.tsx";

export function openAudience(root: HTMLElement): void {
  document.title = "crossprism, for the audience";
  const [state, setState] = createSignal<AudienceState>();
  const [picture, setPicture] = createSignal<AudiencePicture>();
  const channel = new BroadcastChannel(CHANNEL);
  const post = (message: AudienceMessage): void => channel.postMessage(message);
  channel.onmessage = ({ data }: MessageEvent<AudienceMessage>) => {
    if (data.kind === "state") {
      setState(data.state);
      document.documentElement.dataset["theme"] = data.state.theme;
      post({ kind: "here" });
    }
    if (data.kind === "picture") setPicture(data.picture);
  };
  document.addEventListener("keydown", (event) => {
    if (event.key.toLowerCase() === "f" && !event.ctrlKey && !event.metaKey) {
      void document.documentElement.requestFullscreen().catch(() => undefined);
      return;
    }
    const by = stepOf(event.key);
    const now = state();
    if (by === undefined || now === undefined) return;
    event.preventDefault();
    // At once here, and the first window follows; should it be closed, the labels still go on.
    setState({ ...now, label: stepped(now.label, by, now.labels.length) });
    post({ kind: "step", by });
  });
  render(
    () => (
      <main>
        <h1 class="unseen">For the audience</h1>
        <When
          when={state()}
          fallback={
            <div class="audience">
              <p class="audience-words">
                Open “Photograph” in the first window: what is chosen there is shown here.
              </p>
            </div>
          }
        >
          {(now) => <AudienceView state={now()} picture={picture()} />}
        </When>
      </main>
    ),
    root,
  );
  post({ kind: "hello" });
}
