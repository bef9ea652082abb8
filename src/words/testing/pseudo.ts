/** A language that nobody speaks, for tests: every letter of the language file replaced, so that what was left out shows. */
import type { Language, Wording } from "../language.ts";

/** A letter of the Latin alphabet becomes its full-width twin. */
function strange(text: string): string {
  return text.replace(/[A-Za-z]/g, (letter) => String.fromCharCode(letter.charCodeAt(0) - 0x21 + 0xff01));
}

/** The same shape with strange letters; what a function is given passes through as it came. */
export function pseudo<T>(words: T): Wording<T> {
  const made = (value: unknown): unknown => {
    if (typeof value === "string") return strange(value);
    if (Array.isArray(value)) return value.map(made);
    if (typeof value === "function")
      return (...given: unknown[]): string => {
        const marks = given.map((each, i) =>
          typeof each === "string" ? String.fromCharCode(0xe000 + i) : each,
        );
        const told = strange((value as (...all: unknown[]) => string)(...marks));
        return given.reduce<string>(
          (text, each, i) =>
            typeof each === "string" ? text.replaceAll(String.fromCharCode(0xe000 + i), each) : text,
          told,
        );
      };
    return Object.fromEntries(Object.entries(value as object).map(([key, each]) => [key, made(each)]));
  };
  return made(words) as Wording<T>;
}

export function pseudoLanguage({ metals, report, handout, bench, sentences }: Language): Language {
  return {
    code: "qps",
    metals: pseudo(metals),
    report: pseudo(report),
    handout: pseudo(handout),
    bench: pseudo(bench),
    sentences: pseudo(sentences),
  };
}

/** Words of two Latin letters or more, without the signs given. */
export function leftOver(texts: Iterable<string>, signs: readonly string[]): readonly string[] {
  return [...texts].flatMap((text) =>
    [...text.matchAll(/[A-Za-z]{2,}/g)].map(([word]) => word).filter((word) => !signs.includes(word)),
  );
}
