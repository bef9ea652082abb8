/** What can be kept of a view: a still, and a film where something moves. */
import { createSignal, Show as When } from "solid-js";
import { saveFile } from "../measure/save-file.ts";
import type { Motion } from "./motion.ts";
import { saveStill, stillOf } from "./still.ts";
import { useTongue } from "./tongue.ts";

export function Keep(props: {
  readonly stage: () => HTMLElement;
  /** of the files */
  readonly name: string;
  readonly heading: string;
  readonly motion: Motion | undefined;
}) {
  const tongue = useTongue();
  const [said, setSaid] = createSignal("");
  const [busy, setBusy] = createSignal(false);
  /** A file of headings alone would be no still. */
  const drawn = (): boolean => {
    const stands = props.stage().querySelector("svg") !== null;
    setSaid(stands ? "" : tongue().words.notDrawn);
    return stands;
  };
  const make = async (motion: Motion): Promise<void> => {
    setBusy(true);
    const { name, heading } = props;
    const moving = motion();
    try {
      const { filmOf } = await import("./film.ts");
      const film = await filmOf(
        moving,
        () => stillOf(props.stage(), heading),
        (share) => setSaid(tongue().words.filming(tongue().numbers.percent(share))),
      );
      if (film !== undefined) saveFile(film.content, `${name}${film.ending}`);
      setSaid(film === undefined ? tongue().words.noFilm : "");
    } catch {
      setSaid(tongue().words.noFilm);
    } finally {
      moving.end();
      setBusy(false);
    }
  };
  return (
    <p class="keep">
      <button
        type="button"
        class="word"
        onClick={() => {
          if (drawn()) saveStill(props.stage(), props.heading, props.name);
        }}
      >
        {tongue().words.still}
      </button>{" "}
      <When when={props.motion}>
        {(motion) => (
          <button
            type="button"
            class="word"
            disabled={busy()}
            onClick={() => {
              if (drawn()) void make(motion());
            }}
          >
            {tongue().words.film}
          </button>
        )}
      </When>{" "}
      <span role="status">{said()}</span>
    </p>
  );
}
