/** The wish in the trade's words, and the setups that come nearest to it. */
import { createSignal, createUniqueId, For, Index, Show as When } from "solid-js";
import { WISHES } from "../../plan/wishes.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { fieldAt } from "../../setup/fields.ts";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { createJob } from "../planning/job.ts";
import { Running } from "../planning/running.tsx";
import { Found } from "./found.tsx";
import { firstWish, freeable, freed, questionOf, type WishText } from "./wish.ts";

const FORECASTS = 120;
const ORDER = ["first of all", "then", "then"] as const;

export function WishForm(props: LeafProps) {
  const setup = () => props.store.bench().setup;
  const [wish, setWish] = createSignal<WishText>(firstWish(setup()));
  const [fault, setFault] = createSignal<string>();
  const job = createJob<"choose">();
  const change = (part: Partial<WishText>): void => {
    setWish((was) => ({ ...was, ...part }));
  };
  const find = (): void => {
    try {
      setFault(undefined);
      job.ask({ task: "choose", setup: setup(), wish: questionOf(wish(), FORECASTS) });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setFault(error.message);
    }
  };
  const unfreed = () =>
    freeable(setup()).filter((field) => !wish().free.some(({ path }) => path === field.path));
  const id = createUniqueId();
  return (
    <section aria-labelledby={`${id}-wish`}>
      <h3 id={`${id}-wish`}>By a wish</h3>
      <form
        class="wish"
        onSubmit={(event) => {
          event.preventDefault();
          find();
        }}
      >
        <fieldset>
          <legend>What is wished</legend>
          <For each={ORDER}>
            {(order, i) => (
              <label class="line">
                <span>{order}</span>
                <select
                  onChange={(event) => {
                    const next = [...wish().wishes] as [string, string, string];
                    next[i()] = event.currentTarget.value;
                    change({ wishes: next });
                  }}
                >
                  <When when={i() > 0}>
                    <option value="" selected={wish().wishes[i()] === ""}>
                      nothing more
                    </option>
                  </When>
                  <For each={WISHES}>
                    {({ name, sentence }) => (
                      <option value={name} selected={wish().wishes[i()] === name}>
                        {sentence.replace(/\.$/, "").replace(/^The/, "the")}
                      </option>
                    )}
                  </For>
                </select>
              </label>
            )}
          </For>
        </fieldset>
        <fieldset>
          <legend>Within which limits</legend>
          <Written
            label="height at least"
            value={wish().height}
            onWrite={(height) => change({ height })}
            hint="0.3 mm"
          />
          <Written
            label="half-gap at most"
            value={wish().gap}
            onWrite={(gap) => change({ gap })}
            hint="0.2 nm"
          />
          <label class="line check">
            <input
              type="checkbox"
              checked={wish().screen}
              onChange={(event) => change({ screen: event.currentTarget.checked })}
            />
            <span>the pair clearly apart on a screen</span>
          </label>
          <When when={wish().screen}>
            <Written
              label="width of the screen"
              value={wish().width}
              onWrite={(width) => change({ width })}
              hint="1.5 m"
            />
            <Written
              label="last row at"
              value={wish().distance}
              onWrite={(distance) => change({ distance })}
              hint="8 m"
            />
            <div class="line">
              <span aria-hidden="true">shown by</span>
              <Choice
                label="What shows the picture on the screen"
                options={["camera", "light"] as const}
                words={{ camera: "camera and projector", light: "the light itself" }}
                value={wish().shows}
                onChoose={(shows) => change({ shows })}
              />
            </div>
          </When>
        </fieldset>
        <fieldset>
          <legend>What may change</legend>
          <Index each={wish().free}>
            {(each, i) => {
              const label = (): string => fieldAt(each().path)?.label ?? each().path;
              const put = (part: { from?: string; to?: string }): void =>
                change({ free: wish().free.map((was, k) => (k === i ? { ...was, ...part } : was)) });
              return (
                <div class="line freed">
                  <span>{label()}</span>
                  <input
                    type="text"
                    aria-label={`${label()} from`}
                    value={each().from}
                    onChange={(event) => put({ from: event.currentTarget.value })}
                  />
                  <span>to</span>
                  <input
                    type="text"
                    aria-label={`${label()} to`}
                    value={each().to}
                    onChange={(event) => put({ to: event.currentTarget.value })}
                  />
                  <button
                    type="button"
                    class="word"
                    aria-label={`hold ${label()} as it is`}
                    onClick={() => change({ free: wish().free.filter((_, k) => k !== i) })}
                  >
                    hold
                  </button>
                </div>
              );
            }}
          </Index>
          <label class="line">
            <span>free another</span>
            <select
              onChange={(event) => {
                const field = unfreed().find(({ path }) => path === event.currentTarget.value);
                event.currentTarget.value = "";
                if (field !== undefined) change({ free: [...wish().free, freed(field, setup())] });
              }}
            >
              <option value="">choose a field</option>
              <For each={unfreed()}>{(field) => <option value={field.path}>{field.label}</option>}</For>
            </select>
          </label>
        </fieldset>
        <p class="deeds">
          <button type="submit" class="word strong" disabled={job.busy()}>
            find setups
          </button>
          <span class="quiet">{`at most ${FORECASTS} forecasts`}</span>
        </p>
        <When when={fault()}>
          {(sentence) => (
            <p class="fault" role="alert">
              {sentence()}
            </p>
          )}
        </When>
      </form>
      <Running job={job} doing="looking for setups" />
      <When when={job.answer()}>{(chosen) => <Found chosen={chosen()} store={props.store} />}</When>
    </section>
  );
}

function Written(props: {
  readonly label: string;
  readonly value: string;
  readonly hint: string;
  readonly onWrite: (value: string) => void;
}) {
  return (
    <label class="line">
      <span>{props.label}</span>
      <input
        type="text"
        placeholder={`such as ${props.hint}`}
        value={props.value}
        onChange={(event) => props.onWrite(event.currentTarget.value.trim())}
      />
    </label>
  );
}
