/** How numbers are written in the explaining views: as the browser is set or as in English; stays with the browser. */
import { type Accessor, createSignal } from "solid-js";
import { DEFAULT_LOCALE, numbersFor } from "../../words/index.ts";

export const WAYS = ["browser", "english"] as const;
export type Way = (typeof WAYS)[number];
const KEY = "crossprism numbers";

export interface WritingState {
  readonly way: Accessor<Way>;
  readonly choose: (way: Way) => void;
  /** language tag by which numbers are written */
  readonly locale: Accessor<string>;
  /** the browser's own */
  readonly browser: string;
}

export function createWriting(storage: Storage | undefined): WritingState {
  const browser = navigator.language === "" ? DEFAULT_LOCALE : navigator.language;
  const [way, setWay] = createSignal<Way>(storage?.getItem(KEY) === "english" ? "english" : "browser");
  return {
    way,
    choose(chosen) {
      setWay(chosen);
      storage?.setItem(KEY, chosen);
    },
    locale: () => (way() === "english" ? DEFAULT_LOCALE : browser),
    browser,
  };
}

/** A number that shows how a country writes them. */
export function exampleOf(locale: string): string {
  return numbersFor(locale).fixed(457.11, 2);
}
