/** Explaining views: each live from the open setup, with its equation; a still or a film of it can be kept. */
import { createEffect, createMemo, createSignal, type JSX, Match, Show as When, Switch } from "solid-js";
import { EXPLAIN, numbersFor } from "../../words/index.ts";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { createTeacher } from "./ask.ts";
import { Formula } from "./formula.tsx";
import { formulaOf, type ViewId, VIEWS } from "./formulas.ts";
import { Gap } from "./gap.tsx";
import { Keep } from "./keep.tsx";
import { Layers } from "./layers.tsx";
import type { Motion } from "./motion.ts";
import { Oscillator } from "./oscillator.tsx";
import { Pair } from "./pair.tsx";
import { Strengths } from "./strengths.tsx";
import { TongueContext, tongueOf } from "./tongue.ts";
import { Velocities } from "./velocities.tsx";
import type { ViewProps } from "./view-props.ts";
import { Warming } from "./warming.tsx";
import { createWriting } from "./writing.ts";
import { Writing } from "./writing-choice.tsx";
import "./explain.css";

export default function Explain(props: LeafProps) {
  const [view, setView] = createSignal<ViewId>("oscillator");
  const [motion, setMotion] = createSignal<Motion>();
  const writing = createWriting(props.storage);
  const tongue = createMemo(() => tongueOf(EXPLAIN, numbersFor(writing.locale())));
  const words = () => tongue().words;
  const teacher = createTeacher();
  const setup = createMemo(() => props.store.bench().setup);
  createEffect(() => teacher.ask({ task: "facts", setup: setup() }));
  let stage!: HTMLDivElement;
  return (
    <TongueContext.Provider value={tongue}>
      <div class="explain">
        <Choice
          label={words().choose}
          options={VIEWS}
          value={view()}
          words={words().views}
          onChoose={(chosen) => {
            setMotion(undefined);
            setView(chosen);
          }}
        />
        <p class="lead">{words()[view()].lead}</p>
        <When when={formulaOf(view(), words())} keyed>
          {(formula) => <Formula of={formula} />}
        </When>
        <When when={teacher.sentence()}>
          {(sentence) => (
            <p class="fault" role="alert" lang="en">
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
                    <View
                      {...props}
                      sight={sight()}
                      teacher={teacher}
                      moving={(motion) => setMotion(() => motion)}
                    />
                  </Match>
                ))}
              </Switch>
            )}
          </When>
        </div>
        <Keep
          stage={() => stage}
          name={`crossprism-${view()}`}
          heading={words().filmName(words().views[view()])}
          motion={motion()}
        />
        <Writing writing={writing} />
      </div>
    </TongueContext.Provider>
  );
}

function match(
  id: ViewId,
  View: (props: ViewProps) => JSX.Element,
): { readonly id: ViewId; readonly View: (props: ViewProps) => JSX.Element } {
  return { id, View };
}
