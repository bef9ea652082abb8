/** English sentences of the rooms below told in another language, by the templates of the language file. */
import type { Numbers } from "./numbers.ts";

type Templates = Readonly<Record<string, string | undefined>>;
/** The sentence in the other language; undefined where that has none for it. */
export type Retell = (sentence: string) => string | undefined;

interface Known {
  readonly pattern: RegExp;
  readonly told: string;
}

const SLOT = /\{(\d)\}/;
/** A number, perhaps with a unit as `formatQuantity` sets it, a symbol of an element, or nothing: what a slot may hold besides another template's text. */
const NUMBER = /^([-\u2212]?\d+(?:\.\d+)?(?:e[-+]?\d+)?)(\u202f\p{L}+)?$/u;
const SYMBOL = /^(?:[A-Z][a-z]?)?$/;

/**
 * A sentence is known by its English template: letter by letter outside the slots, and in each slot a number (written as the
 * country does, with its unit if it has one), an element's symbol or again a known text. Anything else is not told, so that no half sentence appears.
 *
 * @param english templates by key, slots {0} to {9}
 * @param told the same keys in the other language
 */
export function reteller(english: Templates, told: Templates, numbers: Numbers): Retell {
  const known: Known[] = [];
  // Longer ones first: a template with less of its own text must not take another's sentence.
  const longest = Object.entries(english).toSorted((a, b) => (b[1] ?? "").length - (a[1] ?? "").length);
  for (const [key, template] of longest) {
    const answer = told[key];
    if (template !== undefined && answer !== undefined)
      known.push({ pattern: patternOf(template), told: answer });
  }
  const retell: Retell = (sentence) => {
    for (const { pattern, told: template } of known) {
      const groups = pattern.exec(sentence);
      if (groups === null) continue;
      const slots = Object.entries(groups.groups ?? {}).map(([name, text]) => [name, inSlot(text)] as const);
      if (slots.some(([, text]) => text === undefined)) continue;
      const by = new Map(slots);
      return template.replace(new RegExp(SLOT, "g"), (_, digit: string) => by.get(`s${digit}`) ?? "");
    }
    return undefined;
  };
  const inSlot = (text: string): string | undefined => {
    const [, number, unit = ""] = NUMBER.exec(text) ?? [];
    if (number !== undefined) return numberIn(number, numbers) + unit;
    return SYMBOL.test(text) ? text : retell(text);
  };
  return retell;
}

function patternOf(template: string): RegExp {
  const seen = new Set<string>();
  const parts = template.split(new RegExp(SLOT, "g")).map((part, i) => {
    if (i % 2 === 0) return part.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
    if (seen.has(part)) return String.raw`\k<s${part}>`;
    seen.add(part);
    return `(?<s${part}>.*?)`;
  });
  return new RegExp(`^${parts.join("")}$`);
}

/** With the digits that it came with, and a power of ten in full. */
function numberIn(text: string, { decimalSign }: Numbers): string {
  if (Number(text) === 0) return "0";
  const [lead, power] = text
    .split("e")
    .map((part) => part.replace("-", "\u2212").replace("+", "").replace(".", decimalSign));
  return power === undefined ? lead : `${lead}\u202f×\u202f10^${power}`;
}
