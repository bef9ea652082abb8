/** How far a computation has come, with the word that stops it, and why it has no answer. */
import { For, Show as When } from "solid-js";
import type { Ask } from "./protocol.ts";
import type { Job } from "./job.ts";

export function Running<T extends Ask["task"]>(props: {
  readonly job: Job<T>;
  /** what is being done: "looking for setups" */
  readonly doing: string;
}) {
  return (
    <>
      <When when={props.job.busy()}>
        <div class="running">
          <progress
            aria-label={props.doing}
            {...(props.job.progress() === undefined
              ? {}
              : { value: props.job.progress()?.done, max: props.job.progress()?.of })}
          />
          <span class="quiet">
            {props.doing}
            <When when={props.job.progress()}>
              {(progress) => `, ${progress().done} of ${progress().of}`}
            </When>
          </span>
          <button type="button" class="word" onClick={() => props.job.cancel()}>
            stop
          </button>
        </div>
      </When>
      <When when={props.job.troubles().length > 0}>
        <div role="alert">
          <For each={props.job.troubles()}>
            {(sentence) => (
              <p class="fault">
                <strong>stop</strong> {sentence}
              </p>
            )}
          </For>
        </div>
      </When>
    </>
  );
}
