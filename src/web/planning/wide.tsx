/** A table wider than the page: scrolled inside its own frame, by keyboard too. */
import type { JSX } from "solid-js";

export function Wide(props: {
  readonly label: string;
  readonly class?: string;
  readonly children: JSX.Element;
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.1.1)
    <section class={`wide ${props.class ?? ""}`} aria-label={`${props.label}, may be scrolled`} tabIndex={0}>
      {props.children}
    </section>
  );
}
