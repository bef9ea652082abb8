/** Paper, lab or red: belongs to the room one sits in, so it stays with the browser and out of links. */
import { type Accessor, createEffect, createSignal } from "solid-js";

export const THEMES = ["paper", "lab", "red"] as const;
export type Theme = (typeof THEMES)[number];
const KEY = "crossprism theme";

export interface ThemeState {
  readonly theme: Accessor<Theme>;
  readonly setTheme: (theme: Theme) => void;
}

export function createTheme(storage: Storage | undefined): ThemeState {
  const kept = storage?.getItem(KEY);
  const first =
    THEMES.find((theme) => theme === kept) ??
    (matchMedia("(prefers-color-scheme: dark)").matches ? "lab" : "paper");
  const [theme, setTheme] = createSignal<Theme>(first);
  const print = matchMedia("print");
  const [printing, setPrinting] = createSignal(print.matches);
  print.addEventListener("change", () => setPrinting(print.matches));
  createEffect(() => {
    document.documentElement.dataset["theme"] = printing() ? "paper" : theme();
    storage?.setItem(KEY, theme());
  });
  return { theme, setTheme };
}
