/** The day as a line under the picture: choosing a stretch opens what belongs to it, choosing it again closes it. */
import { For, Show as When, Suspense } from "solid-js";
import { Dynamic } from "solid-js/web";
import type { LeafProps } from "./leaf-props.ts";
import { type Leaf, LEAVES } from "./leaves.ts";

export function DayLine(props: LeafProps) {
  const open = (): Leaf | undefined => LEAVES.find(({ id }) => id === props.store.bench().view.leaf);
  return (
    <When when={LEAVES.length > 0}>
      <nav class="day-line" aria-label="The day">
        <ol>
          <For each={LEAVES}>
            {(leaf) => (
              <li>
                <button
                  type="button"
                  class="stretch"
                  aria-expanded={open() === leaf}
                  aria-controls="leaf"
                  title={leaf.purpose}
                  onClick={() => props.store.look({ leaf: open() === leaf ? null : leaf.id })}
                >
                  {leaf.label}
                </button>
              </li>
            )}
          </For>
        </ol>
      </nav>
      <section id="leaf" class="leaf" aria-label={open()?.label ?? "Nothing is open"}>
        <When when={open()} keyed>
          {(leaf) => (
            <>
              <h2>{leaf.label}</h2>
              <p class="quiet">{leaf.purpose}</p>
              <Suspense fallback={<p class="waiting">Being fetched…</p>}>
                <Dynamic component={leaf.Body} {...props} />
              </Suspense>
            </>
          )}
        </When>
      </section>
    </When>
  );
}
