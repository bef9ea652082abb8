import { type Accessor, createSignal, onCleanup } from "solid-js";

/** Inner width of an element in CSS pixels, followed as it changes; `first` until it is measured. */
export function createWidth(first: number): {
  readonly width: Accessor<number>;
  readonly measure: (el: Element) => void;
} {
  const [width, setWidth] = createSignal(first);
  const measure = (element: Element): void => {
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined && entry.contentRect.width > 0) setWidth(Math.round(entry.contentRect.width));
    });
    observer.observe(element);
    onCleanup(() => observer.disconnect());
  };
  return { width, measure };
}
