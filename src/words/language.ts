/** What a language must hold, and which there are. */
import * as en from "./en.ts";

/** The shape of a language file: the same keys, any text; functions take the same arguments. */
export type Wording<T> = T extends string
  ? string
  : T extends (...given: infer A) => string
    ? (...given: A) => string
    : { readonly [K in keyof T]: Wording<T[K]> };

/** The same keys; those left out are told in English. */
type Lacking<T> = { readonly [K in keyof T]?: string | undefined };

export interface Language {
  /** language tag (BCP 47) of its words */
  readonly code: string;
  readonly metals: Readonly<Record<string, string>>;
  readonly report: Wording<typeof en.REPORT>;
  readonly handout: Wording<typeof en.HANDOUT>;
  readonly bench: Wording<typeof en.BENCH>;
  readonly sentences: Lacking<typeof en.SENTENCES>;
}
/** Words of the explaining views, apart so that the page fetches no others. */
export type ExplainWords = Wording<typeof en.EXPLAIN>;
export type PulseSentences = Lacking<typeof en.PULSE_SENTENCES>;

export const ENGLISH: Language = {
  code: "en",
  metals: en.METALS,
  report: en.REPORT,
  handout: en.HANDOUT,
  bench: en.BENCH,
  sentences: en.SENTENCES,
};

/** By the language of a tag; a further language file is named here. */
const LANGUAGES: Readonly<Record<string, Language>> = { en: ENGLISH };

/** The language of a tag such as "de-AT"; English where there is no file for it. */
export function languageOf(tag: string): Language {
  return LANGUAGES[tag.split("-", 1)[0].toLowerCase()] ?? ENGLISH;
}
