/** The best setup for a wish in the trade's words, within limits, over a few free parameters: a short list along the trade-off. */
import gases from "../../data/gases.json" with { type: "json" };
import { parseQuantity, Refusal } from "../quantity/index.ts";
import type { Setup } from "../setup/index.ts";
import { numberAt, withNumbers } from "./numbers.ts";
import { type OutcomeName, outcomeWord } from "./outcomes.ts";
import { type Outcome, quickForecast, type QuickOptions } from "./quick.ts";
import { ACUITY_SOURCE, CINEMA, type Screen } from "./screen.ts";
import { search, type Tried, tradeOff } from "./search.ts";
import { parseRange, type Range, settingText, settingValue } from "./sweep.ts";
import { splitAt } from "./tolerance.ts";
import { type Wish, WISHES } from "./wishes.ts";

export interface Bound {
  readonly outcome: OutcomeName;
  readonly sense: "at-least" | "at-most";
  /** SI */
  readonly value: number;
  readonly source: string;
}

export interface ChooseWish {
  /** names of WISHES, one to three; the first weighs most in the order of the list */
  readonly wishes: readonly string[];
  /** "height=3 mm" */
  readonly atLeast: readonly string[];
  /** "halfGap=0.2 nm" */
  readonly atMost: readonly string[];
  /** "vessel.bottom=200..320 degC" */
  readonly free: readonly string[];
  /** the picture thrown on a screen of this width, seen from this distance, m: the pair must be clearly apart there */
  readonly screen?: Screen;
  /** most forecasts */
  readonly forecasts: number;
  /** most setups in the answer */
  readonly list: number;
}

export interface Choice {
  /** text of each free field */
  readonly set: Readonly<Record<string, string>>;
  readonly outcome: Outcome;
  /** limits that hold it and ends of ranges it stands at, in words */
  readonly limitedBy: readonly string[];
}

export interface Chosen {
  readonly wishes: readonly Wish[];
  readonly bounds: readonly Bound[];
  /** forecasts made */
  readonly forecasts: number;
  /** best first along the trade-off; empty where nothing keeps all limits */
  readonly choices: readonly Choice[];
  /** what stands in the way where nothing keeps all limits: the nearest try and what it breaks */
  readonly nearest: Choice | null;
}

/** Smallest details that a bridge must span to be seen at a glance: common practice, no source. */
const CLEARLY = 3;

/** Outcomes that may be zero or negative: their limits are compared plainly, all others by ratio. */
const PLAIN: ReadonlySet<OutcomeName> = new Set([
  "rayleigh",
  "bridge",
  "bridgeWidth",
  "columnGradient",
  "warmUp",
]);

/** Deterministic; each forecast is a pure function of the setup. `progress` hears the number of forecasts begun. Refuses a wish that cannot be read. */
export function choose(
  setup: Setup,
  wish: ChooseWish,
  options: QuickOptions = {},
  progress?: (done: number) => void,
): Chosen {
  const words = wish.wishes.map(wishWord);
  if (words.length < 1 || words.length > 3) {
    throw new Refusal({
      code: "bad-wish",
      field: "--best",
      received: `${words.length} wishes`,
      expected: "one to three wishes",
    });
  }
  const ranges = wish.free.map(freeRange);
  if (ranges.length === 0) {
    throw new Refusal({
      code: "nothing-free",
      field: "--free",
      received: "nothing",
      expected: 'at least one free parameter, such as "vessel.bottom=200..320 degC"',
    });
  }
  const bounds = boundsOf(setup, wish);
  const quick = quickForecast({ ...options, ...(wish.screen === undefined ? {} : { screen: wish.screen }) });
  const outcomes = new Map<Float64Array, Outcome>();
  let asked = 0;
  const tried = search(
    (x) => {
      progress?.(++asked);
      try {
        const outcome = quick(withNumbers(setup, valuesAt(ranges, x)));
        const wishes = words.map((word) => wanted(word, outcome));
        const limits = bounds.map((bound) => broken(bound, outcome));
        if ([...wishes, ...limits].some((each) => each === undefined))
          return { wishes: undefined, limits: [] };
        outcomes.set(x, outcome);
        return { wishes: wishes as number[], limits: limits as number[] };
      } catch (error) {
        if (error instanceof Refusal) return { wishes: undefined, limits: [] };
        throw error;
      }
    },
    { dimensions: ranges.length, wishes: words.length, budget: wish.forecasts, ...startOf(setup, ranges) },
  );
  const describe = (each: Tried): Choice => {
    const outcome = outcomes.get(each.x);
    if (outcome === undefined) throw new Error("choose: a point without its outcome");
    return { set: textsAt(ranges, each.x), outcome, limitedBy: limitedBy(bounds, ranges, each) };
  };
  const front = shortList(tradeOff(tried), wish.list);
  return {
    wishes: words,
    bounds,
    forecasts: tried.length,
    choices: front.map(describe),
    nearest: front.length > 0 ? null : nearestTry(tried, describe),
  };
}

function wishWord(name: string): Wish {
  const found = WISHES.find((word) => word.name === name.trim());
  if (found !== undefined) return found;
  throw new Refusal({
    code: "unknown-wish",
    field: "--best",
    received: `"${name}"`,
    expected: `one of ${WISHES.map((word) => word.name).join(", ")}`,
  });
}

function freeRange(text: string): Range {
  const example = '"vessel.bottom=200..320 degC"';
  const [path, value] = splitAt(text, "--free", example);
  const ends = value.split("..");
  if (ends.length !== 2)
    throw new Refusal({
      code: "bad-range",
      field: "--free",
      received: `"${text}"`,
      expected: `a range such as ${example}`,
    });
  return parseRange(path, ends[0], ends[1], "--free");
}

/** Limits of the person, and the usual ones on outcomes the person has not limited. */
function boundsOf(setup: Setup, wish: ChooseWish): Bound[] {
  const read =
    (option: string, sense: Bound["sense"]) =>
    (text: string): Bound => {
      const [name, value] = splitAt(text, option, '"height=3 mm"');
      const word = outcomeWord(name, option);
      return {
        outcome: word.name,
        sense,
        value: parseQuantity(value, word.unit, `${option} ${name}`),
        source: "stated by the person",
      };
    };
  const stated = [
    ...wish.atLeast.map(read("--at-least", "at-least")),
    ...wish.atMost.map(read("--at-most", "at-most")),
  ];
  if (wish.screen !== undefined) {
    const { width, distance, shows } = wish.screen;
    stated.push({
      outcome: "bridgeDetails",
      sense: "at-least",
      value: CLEARLY,
      source: `three times the smallest detail seen from ${distance} m on a screen ${width} m wide (common practice), a minute of arc (Snellen) over the acuity at the light there (${shows === "camera" ? `a projector of ${CINEMA.value} cd/m², ${CINEMA.source}` : "the lamp's own light, thrown by the lens"}): ${ACUITY_SOURCE}`,
    });
  }
  const { limits } = gases;
  const usual: Bound[] = [
    {
      outcome: "supersaturation",
      sense: "at-most",
      value: limits.fog_warn.value,
      source: limits.fog_warn.source,
    },
    {
      outcome: "rayleigh",
      sense: "at-most",
      value: limits.rayleigh_onset.value,
      source: limits.rayleigh_onset.source,
    },
    {
      outcome: "height",
      sense: "at-most",
      value: 0.45 * setup.camera.rows * setup.camera.pixel,
      source: "nine tenths of half the sensor's height",
    },
  ];
  return [
    ...stated,
    ...usual.filter(
      (bound) => !stated.some((each) => each.outcome === bound.outcome && each.sense === bound.sense),
    ),
  ];
}

/** A wish as a number to be made small: logarithms, so that steps are shares. */
function wanted(word: Wish, outcome: Outcome): number | undefined {
  const value = outcome[word.outcome];
  if (value === null) return undefined;
  if (word.outcome === "bottom") return value / 100; // kelvin: a logarithm would hide them
  const size = Math.log(Math.max(value, 1e-30));
  return word.sense === "most" ? -size : size;
}

/** Above 0 where a limit is broken. */
function broken({ outcome: name, sense, value: limit }: Bound, outcome: Outcome): number | undefined {
  const value = outcome[name];
  if (value === null) return undefined;
  const plain = PLAIN.has(name) || value <= 0 || limit <= 0;
  const over = plain ? (value - limit) / Math.max(Math.abs(limit), 1e-30) : Math.log(value / limit);
  return sense === "at-most" ? over : -over;
}

function valuesAt(ranges: readonly Range[], x: Float64Array): Map<string, number> {
  return new Map(
    ranges.map((range, d) => [range.path, settingValue(range, range.from + (range.to - range.from) * x[d])]),
  );
}

function textsAt(ranges: readonly Range[], x: Float64Array): Record<string, string> {
  return Object.fromEntries(
    ranges.map((range, d) => [range.path, settingText(range, range.from + (range.to - range.from) * x[d])]),
  );
}

/** The setup as it stands, where it lies within all ranges. */
function startOf(setup: Setup, ranges: readonly Range[]): { start?: Float64Array } {
  const start = Float64Array.from(
    ranges,
    ({ path, from, to }) => (numberAt(setup, path) - from) / (to - from),
  );
  return start.every((u) => u >= 0 && u <= 1) ? { start } : {};
}

/** Limits within 2 % and ends of ranges within 1 %. */
function limitedBy(bounds: readonly Bound[], ranges: readonly Range[], { x, limits }: Tried): string[] {
  const held = bounds
    .filter((_, k) => limits[k] > -0.02)
    .map((bound) => `${outcomeWord(bound.outcome, "limit").label} ${bound.sense.replace("-", " ")}`);
  const ends = ranges.flatMap((range, d) =>
    x[d] > 0.99 ? [`${range.path} at its upper end`] : x[d] < 0.01 ? [`${range.path} at its lower end`] : [],
  );
  return [...held, ...ends];
}

/** At most `count` points of a trade-off: the best in each wish, then those that lie furthest from the ones taken. */
function shortList(front: readonly Tried[], count: number): Tried[] {
  if (front.length === 0) return [];
  const wishes = (each: Tried): readonly number[] => each.wishes ?? [];
  const dimensions = wishes(front[0]).length;
  const low = Array.from({ length: dimensions }, (_, k) => Math.min(...front.map((each) => wishes(each)[k])));
  const high = Array.from({ length: dimensions }, (_, k) =>
    Math.max(...front.map((each) => wishes(each)[k])),
  );
  const gap = (a: Tried, b: Tried): number =>
    Math.hypot(...low.map((_, k) => (wishes(a)[k] - wishes(b)[k]) / Math.max(1e-12, high[k] - low[k])));
  const taken: Tried[] = [];
  for (let k = 0; k < dimensions && taken.length < count; k++) {
    const best = front.reduce((a, b) => (wishes(b)[k] < wishes(a)[k] ? b : a));
    if (!taken.includes(best)) taken.push(best);
  }
  while (taken.length < count) {
    let next: Tried | undefined;
    let far = 0.05;
    for (const each of front) {
      const least = Math.min(...taken.map((other) => gap(each, other)));
      if (least > far) [next, far] = [each, least];
    }
    if (next === undefined) break;
    taken.push(next);
  }
  return taken.sort((a, b) => wishes(a)[0] - wishes(b)[0]);
}

function nearestTry(tried: readonly Tried[], describe: (each: Tried) => Choice): Choice | null {
  const over = (each: Tried): number => each.limits.reduce((sum, limit) => sum + Math.max(0, limit), 0);
  const known = tried.filter((each) => each.wishes !== undefined);
  return known.length === 0 ? null : describe(known.reduce((a, b) => (over(b) < over(a) ? b : a)));
}
