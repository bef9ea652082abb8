/** The page: bench above, fields on their thread at the left, the picture at the right, what follows from it below. */
import {
  createEffect,
  createMemo,
  createSignal,
  For,
  lazy,
  onCleanup,
  onMount,
  Show as When,
  Suspense,
} from "solid-js";
import { DayLine } from "./day-line.tsx";
import { FieldSheet } from "./fields/sheet.tsx";
import { Choice } from "./figure/choice.tsx";
import { Header } from "./header.tsx";
import { PictureControls } from "./picture/controls.tsx";
import { Plate, PLATE_MARGIN } from "./picture/plate.tsx";
import { fieldAt } from "../setup/fields.ts";
import { SHOWS } from "./state/bench.ts";
import { createSights } from "./state/sight.ts";
import type { BenchStore } from "./state/store.ts";
import { createTheme } from "./state/theme.ts";
import { Hints } from "./hints.tsx";
import { pictureWords } from "./words/alternatives.ts";
import { elementOf } from "./words/elements.ts";
import type { Post } from "./worker/client.ts";
import type { Foreseen, Outcome } from "./worker/protocol.ts";
import type { Finding } from "../plan/finding.ts";

// The drawing and the figures are fetched when the first picture stands; the findings with the rules that make them.
const BenchDrawing = lazy(() => import("./drawn.ts").then(({ BenchDrawing: it }) => ({ default: it })));
const IndexStrip = lazy(() => import("./drawn.ts").then(({ IndexStrip: it }) => ({ default: it })));
const Cards = lazy(() => import("./drawn.ts").then(({ Cards: it }) => ({ default: it })));
const TubeNumbers = lazy(() => import("./drawn.ts").then(({ TubeNumbers: it }) => ({ default: it })));
const Findings = lazy(() => import("./findings/findings.tsx").then(({ Findings: it }) => ({ default: it })));
const Cautions = lazy(() => import("./findings/findings.tsx").then(({ Cautions: it }) => ({ default: it })));

export function App(props: {
  readonly store: BenchStore;
  readonly startForesight: () => Post;
  readonly startReader: () => Post;
  readonly sentence: string | undefined;
  readonly storage: Storage | undefined;
}) {
  const { store } = props;
  const theme = createTheme(props.storage);
  const sights = createSights(store.bench, () => theme.theme() === "red", props.startForesight, store.pace);
  const view = () => store.bench().view;
  // The first picture stands before what hangs around it is drawn.
  const [pictureStands, setPictureStands] = createSignal(false);
  createEffect(() => {
    if (sights.sight() !== undefined && !pictureStands())
      requestAnimationFrame(() => setTimeout(() => setPictureStands(true)));
  });
  const around = () => (pictureStands() ? sights.sight() : undefined);
  const words = createMemo(() => {
    const sight = sights.sight();
    return sight === undefined ? "" : pictureWords(sight, view());
  });
  const faults = createMemo(() => {
    const trouble = sights.trouble();
    const byField = new Map<string, string>();
    if (trouble?.outcome === "refused")
      for (const [i, fault] of trouble.faults.entries()) byField.set(fault.field, trouble.sentences[i] ?? "");
    return byField;
  });
  const mend = (finding: Finding): void => {
    const { remedy } = finding;
    if (remedy?.set !== undefined) store.set(remedy.set, remedy.text);
  };

  let sheet!: HTMLDivElement;
  let plate!: HTMLDivElement;
  let page!: HTMLElement;
  const [anchors, setAnchors] = createSignal<{ sheet: number; plateLeft: number; plateRight: number }>();
  onMount(() => {
    const measure = (): void => {
      const origin =
        page.getBoundingClientRect().left + Number.parseFloat(getComputedStyle(page).paddingLeft);
      const [s, p] = [sheet.getBoundingClientRect(), plate.getBoundingClientRect()];
      // On a narrow page the sheet and the plate stand under each other and nothing hangs from anything.
      setAnchors(
        Math.abs(s.top - p.top) > 60
          ? undefined
          : {
              sheet: s.left - origin + s.width / 2,
              plateLeft: p.left - origin + PLATE_MARGIN.left,
              plateRight: p.right - origin - PLATE_MARGIN.right,
            },
      );
    };
    const observer = new ResizeObserver(measure);
    observer.observe(page);
    observer.observe(plate);
    onCleanup(() => observer.disconnect());
    const keys = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== "z" && key !== "y") return;
      // In a text field the browser's own undo works on the text.
      if (event.target instanceof HTMLInputElement && event.target.type === "text") return;
      event.preventDefault();
      if (key === "y" || event.shiftKey) store.redo();
      else store.undo();
    };
    addEventListener("keydown", keys);
    onCleanup(() => removeEventListener("keydown", keys));
  });

  const drop = (event: DragEvent): void => {
    event.preventDefault();
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length === 0) return;
    void import("./measure/photographs.ts").then(({ dropped }) => {
      dropped.setRefused(dropped.photographs.putAll(files));
      store.look({ leaf: "measure" });
    });
  };

  return (
    <main ref={page} class="page" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <Header store={store} theme={theme} sight={sights.sight()} sentence={props.sentence} />
      <Hints storage={props.storage} />
      <When when={around()} fallback={<div class="bench-waiting" />}>
        {(sight) => (
          <Suspense fallback={<div class="bench-waiting" />}>
            <BenchDrawing
              sight={sight()}
              chosen={view().element}
              onChoose={(element) => store.look({ element })}
              onMove={(values, label) => store.set(values, label, "move along the rail")}
              onMoved={() => store.settle()}
              theme={theme.theme()}
              anchors={anchors()}
            />
          </Suspense>
        )}
      </When>
      <div class="columns">
        <div class="left" ref={sheet}>
          <FieldSheet element={view().element} setup={store.bench().setup} store={store} faults={faults()} />
          <When when={around()}>
            {(sight) => (
              <>
                <Cards
                  sight={sight()}
                  view={view()}
                  theme={theme.theme()}
                  onCursor={(cursor) => store.look({ cursor })}
                />
                <TubeNumbers sight={sight()} />
              </>
            )}
          </When>
        </div>
        <div class="right" ref={plate} aria-busy={!sights.settled()} data-settled={sights.settled()}>
          <When when={sights.sight()} fallback={<p class="waiting">The picture is being computed…</p>}>
            {(sight) => (
              <>
                <Plate
                  picture={sights.picture()}
                  onCanvas={(canvas) => sights.drawOn(canvas)}
                  sight={sight()}
                  words={words()}
                  view={view()}
                  onCursor={(cursor) => store.look({ cursor })}
                />
                <div class="plate-words">
                  <Choice
                    label="The tube in the picture"
                    options={SHOWS}
                    value={view().show}
                    onChoose={(show) => store.look({ show })}
                  />
                  <Choice
                    label="Wavelengths in"
                    options={["air", "vacuum"] as const}
                    value={view().wavelengths}
                    onChoose={(wavelengths) => store.look({ wavelengths })}
                  />
                  <p class="quiet legend">
                    <span class="key-blue">index, n − 1</span> <span class="key-copper">light left</span>
                  </p>
                </div>
                <div class="index-strip">
                  <When when={around()}>
                    {(later) => (
                      <IndexStrip
                        sight={later()}
                        view={view()}
                        onCursor={(cursor) => store.look({ cursor })}
                      />
                    )}
                  </When>
                </div>
              </>
            )}
          </When>
          <When when={around()}>
            {(sight) => <PictureControls store={store} sight={sight()} faults={faults()} />}
          </When>
          <When when={sights.trouble()}>
            {(trouble) => (
              <div class="trouble" role="alert">
                <For each={sentencesOf(trouble())}>
                  {({ sentence, field }) => (
                    <p>
                      <strong>stop</strong>{" "}
                      <When when={field !== undefined && labelOf(field)}>
                        {(label) => <b>{label()}: </b>}
                      </When>
                      {sentence} <When when={sights.sight()}>The last good picture stays. </When>
                      <When when={field !== undefined && elementOf(field)}>
                        {(element) => (
                          <button
                            type="button"
                            class="word mend"
                            onClick={() => store.look({ element: element() })}
                          >
                            open its fields
                          </button>
                        )}
                      </When>
                    </p>
                  )}
                </For>
              </div>
            )}
          </When>
          <When when={sights.said()}>
            {(said) => <Findings findings={said().findings} cautions={said().cautions} onMend={mend} />}
          </When>
        </div>
      </div>
      <DayLine
        store={store}
        sights={sights}
        theme={theme}
        storage={props.storage}
        startForesight={props.startForesight}
        startReader={props.startReader}
      />
      <When when={sights.said()}>{(said) => <Cautions cautions={said().cautions} onMend={mend} />}</When>
      <footer class="foot">
        <p>
          crossprism computes here, in this browser; nothing leaves this machine. Values from published
          tables; what is assumed is said where it is used.
        </p>
      </footer>
    </main>
  );
}

/** What the page calls a field, so that its path in the sentence need not be guessed at. */
function labelOf(path: string): string | undefined {
  return fieldAt(path)?.label;
}

type Trouble = Exclude<Outcome<Foreseen>, { outcome: "done" }>;

function sentencesOf(
  trouble: Trouble,
): readonly { readonly sentence: string; readonly field: string | undefined }[] {
  return trouble.outcome === "refused"
    ? trouble.sentences.map((sentence, i) => ({ sentence, field: trouble.faults[i]?.field }))
    : [{ sentence: trouble.sentence, field: undefined }];
}
