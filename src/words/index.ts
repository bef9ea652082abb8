export { EXPLAIN, PULSE_SENTENCES } from "./en.ts";
export {
  ENGLISH,
  type ExplainWords,
  type Language,
  languageOf,
  type PulseSentences,
  type Wording,
} from "./language.ts";
export { DEFAULT_LOCALE, type Numbers, numbersFor } from "./numbers.ts";
export { type Retell, reteller } from "./retell.ts";
