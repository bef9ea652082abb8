/** Explaining views: each live from the open setup, with its equation, and a still of its drawing to keep. */
import { createEffect, createMemo, createSignal, type JSX, Match, Show as When, Switch } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { createTeacher } from "./ask.ts";
import { Formula } from "./formula.tsx";
import { Gap } from "./gap.tsx";
import { Layers } from "./layers.tsx";
import { Oscillator } from "./oscillator.tsx";
import { Pair } from "./pair.tsx";
import { saveStill } from "./still.ts";
import { Strengths } from "./strengths.tsx";
import { Velocities } from "./velocities.tsx";
import type { ViewProps } from "./view-props.ts";
import { Warming } from "./warming.tsx";
import { WORDS } from "./words.en.ts";
import "./explain.css";

const VIEWS = ["oscillator", "gap", "pair", "strengths", "velocities", "layers", "warming"] as const;
type ViewId = (typeof VIEWS)[number];

export default function Explain(props: LeafProps) {
  const [view, setView] = createSignal<ViewId>("oscillator");
  const teacher = createTeacher();
  const setup = createMemo(() => props.store.bench().setup);
  createEffect(() => teacher.ask({ task: "facts", setup: setup() }));
  let stage!: HTMLDivElement;
  return (
    <div class="explain">
      <Choice label={WORDS.choose} options={VIEWS} value={view()} words={WORDS.views} onChoose={setView} />
      <p class="lead">{WORDS[view()].lead}</p>
      <When when={formulaOf(view())} keyed>
        {(formula) => <Formula of={formula} />}
      </When>
      <When when={teacher.sentence()}>
        {(sentence) => (
          <p class="fault" role="alert">
            {sentence()}
          </p>
        )}
      </When>
      <div ref={stage}>
        <When when={props.sights.sight()}>
          {(sight) => (
            <Switch>
              {[
                match("oscillator", Oscillator),
                match("gap", Gap),
                match("pair", Pair),
                match("strengths", Strengths),
                match("velocities", Velocities),
                match("layers", Layers),
                match("warming", Warming),
              ].map(({ id, View }) => (
                <Match when={view() === id}>
                  <View {...props} sight={sight()} teacher={teacher} />
                </Match>
              ))}
            </Switch>
          )}
        </When>
      </div>
      <p>
        <button type="button" class="word" onClick={() => saveStill(stage, `crossprism-${view()}`)}>
          {WORDS.still}
        </button>
      </p>
    </div>
  );
}

function match(
  id: ViewId,
  View: (props: ViewProps) => JSX.Element,
): { readonly id: ViewId; readonly View: (props: ViewProps) => JSX.Element } {
  return { id, View };
}

function formulaOf(view: ViewId): string | undefined {
  const words = WORDS[view];
  return "formula" in words ? words.formula : undefined;
}
