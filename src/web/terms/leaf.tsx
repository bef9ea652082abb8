/** The words of the trade and of the fields, with a box that narrows them. */
import { createMemo, createSignal, createUniqueId, For, Show as When } from "solid-js";
import { FIELDS } from "../../setup/fields.ts";
import { sentenceOf } from "../fields/sentences.ts";
import type { LeafProps } from "../leaf-props.ts";
import { elementOf } from "../words/elements.ts";
import { Text } from "../words/text.tsx";
import { GLOSSARY } from "./glossary.ts";
import "./terms.css";

export default function Terms(props: LeafProps) {
  const id = createUniqueId();
  const [sought, setSought] = createSignal("");
  const holds = (...texts: readonly string[]): boolean => {
    const wanted = sought().trim().toLowerCase();
    return wanted === "" || texts.some((text) => text.toLowerCase().includes(wanted));
  };
  const chapters = createMemo(() =>
    GLOSSARY.map((chapter) => ({
      ...chapter,
      terms: chapter.terms.filter((one) => holds(one.term, one.meaning)),
    })).filter((chapter) => chapter.terms.length > 0),
  );
  const fields = createMemo(() =>
    FIELDS.filter((field) => elementOf(field.path) !== undefined && holds(field.label, sentenceOf(field))),
  );
  const count = () => chapters().reduce((sum, chapter) => sum + chapter.terms.length, 0) + fields().length;

  return (
    <div class="terms">
      <p>
        <label for={id}>look for</label>{" "}
        <input
          id={id}
          type="search"
          value={sought()}
          onInput={(event) => setSought(event.currentTarget.value)}
        />{" "}
        <span class="quiet" role="status">
          {count() === 0 ? "no such word here" : `${count()} explained`}
        </span>
      </p>
      <For each={chapters()}>
        {(chapter) => (
          <section>
            <h3>{chapter.title}</h3>
            <dl>
              <For each={chapter.terms}>
                {(one) => (
                  <div>
                    <dt>{one.term}</dt>
                    <dd>
                      {one.meaning}
                      <When when={one.formula ?? one.source}>
                        <details>
                          <summary>
                            {one.formula === undefined ? "source" : "formula and source"}
                            <span class="unseen">{` of ${one.term}`}</span>
                          </summary>
                          <When when={one.formula}>
                            {(formula) => (
                              <p class="formula">
                                <Text of={formula()} />
                              </p>
                            )}
                          </When>
                          <p class="quiet">{one.source ?? "a definition"}</p>
                        </details>
                      </When>
                    </dd>
                  </div>
                )}
              </For>
            </dl>
          </section>
        )}
      </For>
      <When when={fields().length > 0}>
        <section>
          <h3>Fields of the setup</h3>
          <dl>
            <For each={fields()}>
              {(field) => (
                <div>
                  <dt>{field.label}</dt>
                  <dd>
                    {sentenceOf(field)}{" "}
                    <When when={elementOf(field.path)}>
                      {(element) => (
                        <button
                          type="button"
                          class="word mend"
                          onClick={() => {
                            props.store.look({ element: element() });
                            scrollTo({ top: 0 });
                          }}
                        >
                          open<span class="unseen">{` ${field.label}`}</span>
                        </button>
                      )}
                    </When>
                  </dd>
                </div>
              )}
            </For>
          </dl>
        </section>
      </When>
    </div>
  );
}
