export { EXPLAIN } from "./en.ts";
export { ENGLISH, type ExplainWords, type Language, languageOf, type Wording } from "./language.ts";
export { DEFAULT_LOCALE, type Numbers, numbersFor } from "./numbers.ts";
