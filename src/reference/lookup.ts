/**
 * Finds any stored figure by its path or by words, for people who ask "what number do you use, and from where?".
 * For figures that the program reckons with, use the typed tables of this room instead.
 */
import choices from "../../data/choices.json" with { type: "json" };
import broadening from "../../data/broadening.json" with { type: "json" };
import cie from "../../data/cie.json" with { type: "json" };
import constants from "../../data/constants.json" with { type: "json" };
import diffusion from "../../data/diffusion.json" with { type: "json" };
import glasses from "../../data/glasses.json" with { type: "json" };
import hyperfine from "../../data/hyperfine.json" with { type: "json" };
import lampLight from "../../data/lamp-light.json" with { type: "json" };
import lamps from "../../data/lamps.json" with { type: "json" };
import lines from "../../data/lines.json" with { type: "json" };
import pressures from "../../data/vapour-pressure.json" with { type: "json" };
import { Refusal } from "../quantity/index.ts";
import type { Json } from "./record.ts";

/** A stored figure as it stands in the file. */
export interface StoredValue {
  /** e.g. "lines.KI-766.70vac.f_absorption" */
  readonly path: string;
  /** in `unit` */
  readonly value: number;
  /** UCUM code where the file names one, else undefined */
  readonly unit: string | undefined;
  readonly uncertainty: number | undefined;
  /** undefined only where the file names none: a figure without source */
  readonly source: string | undefined;
  /** "looked-up", "memory" or "computed"; undefined where the file does not say */
  readonly origin: string | undefined;
  readonly note: string | undefined;
  /** whether this is a record of value and unit, or a bare number inside one (a coefficient, a row of a table) */
  readonly bare: boolean;
}

const FILES: ReadonlyArray<readonly [name: string, content: unknown]> = [
  ["constants", constants],
  ["lines", lines],
  ["hyperfine", hyperfine],
  ["vapour-pressure", pressures],
  ["broadening", broadening],
  ["diffusion", diffusion],
  ["glasses", glasses],
  ["lamps", lamps],
  ["lamp-light", lampLight],
  ["cie", cie],
];

/** What an ancestor says about everything below it. */
interface Inherited {
  readonly source: string | undefined;
  readonly origin: string | undefined;
  /** words by which a person may know the entry */
  readonly words: string;
}

interface Indexed {
  readonly found: StoredValue;
  readonly haystack: string;
}

const asText = (value: unknown): string | undefined => (typeof value === "string" ? value : undefined);

/** Fields whose text names an entry. */
const NAMES = [
  "name",
  "species",
  "element",
  "line",
  "isotope",
  "level",
  "atom",
  "gas",
  "phase",
  "quantity",
  "kind",
  "pair",
];

/** Key of a list's item: what identifies it, else its place. */
function keyOf(item: unknown, place: number): string {
  if (typeof item !== "object" || item === null || Array.isArray(item)) return String(place);
  const raw = item as Json;
  for (const key of ["id", "isotope", "glass_code", "level", "letter"]) {
    const name = asText(raw[key]);
    if (name !== undefined) return name;
  }
  const element = asText(raw["element"]);
  if (typeof raw["wavelength_air"] === "object" && element !== undefined) {
    return `${element}-${String((raw["wavelength_air"] as Json)["value"])}`;
  }
  const parts = [
    "species",
    "atom",
    "pair",
    "line",
    "gas",
    "phase",
    "correlation",
    "property",
    "T",
    "mass_number",
  ];
  const named = parts.flatMap((key) =>
    ["string", "number"].includes(typeof raw[key]) ? [String(raw[key])] : [],
  );
  return named.length === 0 ? String(place) : named.join("-");
}

/** A bare number in a record that names no source was worked out from the first sourced figure beside it. */
function workedOut(raw: Json, here: Inherited): Inherited {
  for (const child of Object.values(raw)) {
    if (typeof child !== "object" || child === null) continue;
    const source = asText((child as Json)["source"]);
    if (source !== undefined) return { ...here, source: `worked out from ${source}`, origin: "computed" };
  }
  return here;
}

/** What must be said beside a published strength that is not the one reckoned with. */
function choiceNote(path: string): string | undefined {
  const choice = choices.entries.find((each) => path === `lines.${each.line}.f_absorption`);
  return choice === undefined
    ? undefined
    : `not the default: "${choice.strength}" of this line is used. ${choice.reason} (${choice.decision})`;
}

function walk(node: unknown, path: string, inherited: Inherited, out: Indexed[]): void {
  if (typeof node === "number") {
    const { source, origin } = inherited;
    const found = {
      path,
      value: node,
      unit: undefined,
      uncertainty: undefined,
      source,
      origin,
      note: undefined,
      bare: true,
    };
    out.push({ found, haystack: `${path} ${inherited.words}`.toLowerCase() });
    return;
  }
  if (Array.isArray(node)) {
    const seen = new Map<string, number>();
    node.forEach((item: unknown, i) => {
      const key = keyOf(item, i);
      const times = (seen.get(key) ?? 0) + 1;
      seen.set(key, times);
      walk(item, `${path}.${key}${times === 1 ? "" : `-${times}`}`, inherited, out);
    });
    return;
  }
  if (typeof node !== "object" || node === null) return;
  const raw = node as Json;
  const names = NAMES.flatMap((key) => asText(raw[key]) ?? []);
  // "check_…" fields were worked out while the tables were compiled, from the figures beside them.
  const isCheck = /\.check_\w+$/.test(path);
  const here: Inherited = {
    source: asText(raw["source"]) ?? (isCheck ? "worked out from the figures beside it" : inherited.source),
    origin: asText(raw["origin"]) ?? (isCheck ? "computed" : inherited.origin),
    words: [inherited.words, ...names].join(" "),
  };
  const unit = asText(raw["unit"]);
  const isRecord = unit !== undefined && typeof raw["value"] === "number";
  if (isRecord) {
    const found: StoredValue = {
      path,
      value: raw["value"] as number,
      unit,
      uncertainty: typeof raw["uncertainty"] === "number" ? raw["uncertainty"] : undefined,
      source: here.source,
      origin: here.origin,
      note: choiceNote(path) ?? asText(raw["note"]) ?? asText(raw["derivation"]) ?? asText(raw["caution"]),
      bare: false,
    };
    out.push({ found, haystack: `${path} ${here.words}`.toLowerCase() });
  }
  for (const [key, child] of Object.entries(raw)) {
    if (isRecord && (key === "value" || key === "uncertainty")) continue;
    const under = typeof child === "number" && here.source === undefined ? workedOut(raw, here) : here;
    walk(child, key === "entries" ? path : `${path}.${key}`, under, out);
  }
}

function build(): readonly Indexed[] {
  const out: Indexed[] = [];
  for (const [name, content] of FILES)
    walk(content, name, { source: undefined, origin: undefined, words: "" }, out);
  return out;
}

/** Every stored figure, in the order of the files. */
export function storedValues(): readonly StoredValue[] {
  return build().map((entry) => entry.found);
}

/** Share of common letter pairs from which a path is worth naming as a near miss. */
const WORTH_NAMING = 0.35;

function commonLetters(a: string, b: string): number {
  const pairs = (text: string): Set<string> =>
    new Set(Array.from(text.slice(0, -1), (c, i) => c + text[i + 1]));
  const left = pairs(a);
  const right = pairs(b);
  let shared = 0;
  for (const pair of left) if (right.has(pair)) shared += 1;
  return (2 * shared) / (left.size + right.size);
}

/**
 * Stored figures that answer a query.
 *
 * @param query a path ("lines.KI-766.70vac.f_absorption"), the beginning of one ("glasses.517642"), or words that must
 *   all occur in path or name ("K D2 f_absorption", "argon lennard")
 * @returns in the order of the files, records of value and unit before bare numbers; never empty
 * @throws Refusal when nothing answers; its hint names up to three near paths
 */
export function lookup(query: string, field = "query"): readonly StoredValue[] {
  const wanted = query.trim().toLowerCase();
  const all = build();
  const answer = (entries: readonly Indexed[]): readonly StoredValue[] =>
    entries.map((entry) => entry.found).sort((a, b) => Number(a.bare) - Number(b.bare));
  if (wanted !== "") {
    const exact = all.filter((entry) => entry.found.path.toLowerCase() === wanted);
    if (exact.length > 0) return answer(exact);
    const below = all.filter((entry) => entry.found.path.toLowerCase().startsWith(`${wanted}.`));
    if (below.length > 0) return answer(below);
    const words = wanted.split(/\s+/);
    const tokens = (text: string): string[] => text.split(/[\s.;,]+/);
    // Short words such as "K" must stand alone; longer ones may be part of a name.
    const has = (text: string, word: string): boolean =>
      word.length > 2 ? text.includes(word) : tokens(text).includes(word);
    const matching = all.filter((entry) => words.every((word) => has(entry.haystack, word)));
    if (matching.length > 0) return answer(matching);
  }
  const near = all
    .filter((entry) => !entry.found.bare)
    .map((entry) => ({
      path: entry.found.path,
      score: commonLetters(entry.found.path.toLowerCase(), wanted),
    }))
    .filter((entry) => entry.score >= WORTH_NAMING)
    .sort((a, b) => b.score - a.score)
    .slice(0, 3)
    .map((entry) => entry.path);
  throw new Refusal({
    code: "unknown-datum",
    field,
    received: `"${query}"`,
    expected: `a path such as "lines.KI-766.70vac.f_absorption" or words that name a stored figure`,
    ...(near.length === 0 ? {} : { hint: `nearest: ${near.join(", ")}` }),
  });
}
