import { For } from "solid-js";

const SUPERS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻";
const PLAIN = "0123456789\u2212";

/**
 * Text with its powers set as real superscripts: "10^−5" and "m⁻³" alike, since the page's fonts carry no raised digits.
 */
export function Text(props: { readonly of: string }) {
  return <For each={parts(props.of)}>{(part) => (part.raised ? <sup>{part.text}</sup> : part.text)}</For>;
}

export function parts(text: string): { readonly text: string; readonly raised: boolean }[] {
  return text
    .replace(
      /[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+/g,
      (run) => `^${Array.from(run, (c) => PLAIN.charAt(SUPERS.indexOf(c))).join("")}`,
    )
    .split(/(\^[\u2212-]?\d+)/)
    .filter((part) => part !== "")
    .map((part) =>
      /^\^[\u2212-]?\d/.test(part) ? { text: part.slice(1), raised: true } : { text: part, raised: false },
    );
}
