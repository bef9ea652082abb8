/** Title and what can be done with the bench as a whole: undo, keep, share, and the light of the room. */
import { createSignal, Show as When } from "solid-js";
import { Choice } from "./figure/choice.tsx";
import { benchFrom } from "./state/bench.ts";
import { valueAt } from "./state/setup-text.ts";
import type { BenchStore } from "./state/store.ts";
import { THEMES, type ThemeState } from "./state/theme.ts";
import { contentsWords } from "./words/vessels.ts";
import type { Sight } from "./worker/protocol.ts";

export function Header(props: {
  readonly store: BenchStore;
  readonly theme: ThemeState;
  readonly sight: Sight | undefined;
  readonly sentence: string | undefined;
}) {
  const { store } = props;
  const setup = () => store.bench().setup;
  const title = () => String(valueAt(setup(), "title") ?? "Untitled");
  const notes = () => String(valueAt(setup(), "notes") ?? "");
  const [said, setSaid] = createSignal<string | undefined>(props.sentence);
  let opener!: HTMLInputElement;

  const share = async (): Promise<void> => {
    const { toHash } = await import("./state/link.ts");
    const hash = await toHash(store.bench());
    history.replaceState(null, "", hash);
    try {
      await navigator.clipboard.writeText(location.href);
      setSaid("The link is copied; it holds this exact view.");
    } catch {
      setSaid("The address line now holds a link to this exact view.");
    }
  };
  const save = (): void => {
    const name =
      title()
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, "-")
        .replace(/^-|-$/g, "") || "setup";
    const link = document.createElement("a");
    link.href = URL.createObjectURL(
      new Blob([`${JSON.stringify(setup(), null, 2)}\n`], { type: "application/json" }),
    );
    link.download = `${name}.json`;
    link.click();
    URL.revokeObjectURL(link.href);
    setSaid(`Saved as ${name}.json.`);
  };
  const open = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    try {
      const bench = benchFrom(JSON.parse(await file.text()));
      if (bench === undefined) throw new Error("no setup in it");
      store.replace({ setup: bench.setup, view: { ...bench.view, cursor: null } }, `opened ${file.name}`);
      setSaid(undefined);
    } catch {
      setSaid(`${file.name}: expected a setup file (JSON with the groups medium, vessel, path, camera).`);
    }
    opener.value = "";
  };

  return (
    <header class="head">
      <div class="titles">
        <h1>
          <input
            aria-label="Title of the setup"
            value={title()}
            size={Math.max(6, title().length)}
            onChange={(event) =>
              store.set({ title: event.currentTarget.value.trim() || "Untitled" }, "title")
            }
          />
        </h1>
        <p class="subtitle">
          <When when={props.sight}>{(sight) => <>{contentsWords(sight().setup)}</>}</When>
        </p>
      </div>
      <div class="doings">
        <button
          type="button"
          class="word"
          disabled={store.undoLabel() === undefined}
          onClick={() => store.undo()}
          title={store.undoLabel()}
        >
          undo<When when={store.undoLabel()}>{(label) => <span class="what">{`: ${label()}`}</span>}</When>
        </button>
        <button
          type="button"
          class="word"
          disabled={store.redoLabel() === undefined}
          onClick={() => store.redo()}
        >
          redo
        </button>
        <button type="button" class="word" onClick={() => void share()}>
          copy link
        </button>
        <button type="button" class="word" onClick={save}>
          save file
        </button>
        <button type="button" class="word" onClick={() => opener.click()}>
          open file
        </button>
        <input
          ref={opener}
          type="file"
          accept="application/json,.json"
          hidden
          aria-label="Setup file to open"
          onChange={(event) => void open(event.currentTarget.files?.[0])}
        />
        <Choice
          label="Light of the room"
          options={THEMES}
          value={props.theme.theme()}
          onChoose={props.theme.setTheme}
        />
      </div>
      <When when={notes() !== ""}>
        <p class="notes-line">{notes()}</p>
      </When>
      <p class="said" role="status">
        {said()}
      </p>
    </header>
  );
}
