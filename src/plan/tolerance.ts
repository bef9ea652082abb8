/**
 * How errors of setting and of knowledge spread into what will be seen and read: a first-order budget and a Monte Carlo
 * draw beside it. The work falls into units that are pure functions of (job, number), so that any number of workers on
 * any machines gives the same answer.
 */
import planning from "../../data/planning.json" with { type: "json" };
import { parseQuantity, Refusal, toCoherent } from "../quantity/index.ts";
import { lineById } from "../reference/index.ts";
import type { Setup } from "../setup/index.ts";
import { choleskyOf, correlated, normalDraw } from "./draws.ts";
import { numberAt, numericField, unitOf, withNumbers } from "./numbers.ts";
import { type Knowledge, type Outcome, quickForecast } from "./quick.ts";

/** One uncertain input. */
export interface Uncertain {
  /** a field of the setup, or "knowledge.pressure", "knowledge.strength", "knowledge.gasWidth" */
  readonly name: string;
  /** value of the setup, SI; 1 for knowledge */
  readonly value: number;
  /** standard uncertainty in the same unit, ≥ 0 */
  readonly standard: number;
  /** UCUM code */
  readonly unit: string;
  /** where the uncertainty comes from */
  readonly source: string;
}

/** Everything a unit of work needs. */
export interface ToleranceJob {
  readonly kind: "tolerance";
  readonly setup: Setup;
  readonly inputs: readonly Uncertain[];
  /** rows × columns of the correlation matrix of the inputs */
  readonly correlation: readonly number[];
  readonly seed: number;
  readonly draws: number;
  readonly readAt: { readonly line: string; readonly distance: number } | null;
  /** height of the nominal curve at `readAt` on the sensor, m; null without a line */
  readonly nominalReading: number | null;
  /** density of the nominal setup, m⁻³ */
  readonly nominalDensity: number;
}

/** What one unit gives: numbers by name, or why there are none. */
export type Row = { readonly values: Readonly<Record<string, number | null>> } | { readonly refused: string };

export const KNOWLEDGE = ["pressure", "strength", "gasWidth"] as const;
const PREFIX = "knowledge.";

/** Standard deviations by which the first-order budget steps to either side: small against curvature, large against rounding. */
const STEP = 0.5;

export interface ToleranceWish {
  /** "vessel.bottom=3 K", "path.focalLength=1 %", "knowledge.pressure=5 %"; empty: the usual list of data/planning.json */
  readonly inputs: readonly string[];
  /** "vessel.bottom,vessel.top=0.8": correlation of two inputs */
  readonly correlations: readonly string[];
  readonly seed: number;
  readonly draws: number;
}

/** Reads a wish and forecasts the setup once, to know where its curve is read. Refuses what does not fit together. */
export function toleranceJob(setup: Setup, wish: ToleranceWish): ToleranceJob {
  const nominal = quickForecast()(setup);
  const inputs =
    wish.inputs.length > 0 ? wish.inputs.map((text) => uncertain(setup, text)) : usual(setup, nominal);
  const names = inputs.map((input) => input.name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined)
    throw new Refusal({
      code: "named-twice",
      field: "--error",
      received: `"${twice}" twice`,
      expected: "each input once",
    });
  const readAt =
    nominal.line === null || nominal.halfGap === null || nominal.halfGap === 0
      ? null
      : { line: nominal.line, distance: 2 * nominal.halfGap };
  const correlation = correlationOf(names, wish.correlations);
  choleskyOf(correlation, names.length); // refuses a contradiction before any work
  return {
    kind: "tolerance",
    setup,
    inputs,
    correlation: Array.from(correlation),
    seed: wish.seed,
    draws: wish.draws,
    readAt,
    nominalReading: readAt === null ? null : quickForecast({ readAt })(setup).reading,
    nominalDensity: nominal.density,
  };
}

function uncertain(setup: Setup, text: string): Uncertain {
  const [name, size] = splitAt(text, "--error", '"vessel.bottom=3 K" or "knowledge.pressure=5 %"');
  const source = "stated by the person";
  if (name.startsWith(PREFIX)) {
    if (!KNOWLEDGE.some((known) => name === PREFIX + known)) {
      throw new Refusal({
        code: "unknown-knowledge",
        field: "--error",
        received: `"${name}"`,
        expected: `one of ${KNOWLEDGE.map((k) => PREFIX + k).join(", ")}`,
      });
    }
    return { name, value: 1, standard: notNegative(parseQuantity(size, "1", name), name), unit: "1", source };
  }
  const field = numericField(name, "--error");
  const value = numberAt(setup, name);
  const unit = unitOf(field);
  // A temperature's uncertainty is a difference: "3 K", and never read as a point on the Celsius scale.
  const relative = size.endsWith("%") && unit !== "1";
  if (unit === "K" && !relative && !/(?:^|[\s\d])m?K$/.test(size)) {
    throw new Refusal({
      code: "not-a-difference",
      field: name,
      received: `"${size}"`,
      expected: 'a difference of temperature in kelvin, such as "3 K"',
    });
  }
  const standard = relative
    ? Math.abs(value) * parseQuantity(size, "1", name)
    : parseQuantity(size, unit, name);
  return { name, value, standard: notNegative(standard, name), unit, source };
}

function notNegative(standard: number, field: string): number {
  if (standard >= 0) return standard;
  throw new Refusal({
    code: "negative-uncertainty",
    field,
    received: String(standard),
    expected: "a standard uncertainty of 0 or more",
  });
}

/** The usual list, less what the setup does not state. */
function usual(setup: Setup, nominal: Outcome): Uncertain[] {
  return planning.tolerances.map((entry) => {
    const source =
      entry.origin === "memory" && !entry.source.startsWith("common practice")
        ? `${entry.source} (from memory)`
        : entry.source;
    if (entry.name === `${PREFIX}strength` && nominal.line !== null) {
      const line = lineById(nominal.line);
      if (line.strengthUncertainty !== undefined) {
        return {
          name: entry.name,
          value: 1,
          standard: line.strengthUncertainty / line.oscillatorStrength,
          unit: "1",
          source: line.sources.strength.source,
        };
      }
    }
    if (entry.name.startsWith(PREFIX))
      return { name: entry.name, value: 1, standard: entry.standard, unit: "1", source };
    const value = numberAt(setup, entry.name);
    const unit = unitOf(numericField(entry.name, "data/planning.json"));
    const standard =
      "relative" in entry ? Math.abs(value) * entry.standard : toCoherent(entry.standard, entry.unit);
    return { name: entry.name, value, standard, unit, source };
  });
}

function correlationOf(names: readonly string[], texts: readonly string[]): Float64Array {
  const n = names.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) matrix[i * n + i] = 1;
  for (const text of texts) {
    const [pair, size] = splitAt(text, "--together", '"vessel.bottom,vessel.top=0.8"');
    const [a, b, ...more] = pair.split(",").map((name) => names.indexOf(name.trim()));
    const rho = Number(size);
    if (
      a === undefined ||
      b === undefined ||
      more.length > 0 ||
      a < 0 ||
      b < 0 ||
      a === b ||
      !(rho > -1 && rho < 1)
    ) {
      throw new Refusal({
        code: "bad-correlation",
        field: "--together",
        received: `"${text}"`,
        expected: `two different inputs of ${names.join(", ")} and a coefficient between -1 and 1`,
      });
    }
    matrix[a * n + b] = rho;
    matrix[b * n + a] = rho;
  }
  return matrix;
}

export function splitAt(text: string, option: string, expected: string): [string, string] {
  const at = text.indexOf("=");
  if (at > 0 && at < text.length - 1) return [text.slice(0, at).trim(), text.slice(at + 1).trim()];
  throw new Refusal({ code: "bad-option", field: option, received: `"${text}"`, expected });
}

/** Units of a job: the nominal setup, two steps for each input, then the draws. */
export function toleranceUnits(job: ToleranceJob): number {
  return 1 + 2 * job.inputs.length + job.draws;
}

/** Deviations of the inputs in unit `index`, in standard uncertainties. */
export function deviations(job: ToleranceJob, lower: Float64Array, index: number): Float64Array {
  const n = job.inputs.length;
  const out = new Float64Array(n);
  if (index === 0) return out;
  if (index <= 2 * n) {
    out[(index - 1) >> 1] = index % 2 === 1 ? STEP : -STEP;
    return out;
  }
  return correlated(lower, normalDraw(job.seed, index - 1 - 2 * n, n));
}

/** The work of one unit; the returned function may be called in any order. */
export function toleranceRunner(job: ToleranceJob): (index: number) => Row {
  const lower = choleskyOf(Float64Array.from(job.correlation), job.inputs.length);
  const quick = quickForecast(job.readAt === null ? {} : { readAt: job.readAt });
  return (index) => {
    try {
      const z = deviations(job, lower, index);
      const numbers = new Map<string, number>();
      const knowledge: { -readonly [K in keyof Knowledge]: Knowledge[K] } = {};
      job.inputs.forEach(({ name, value, standard }, i) => {
        const drawn = value + z[i] * standard;
        if (name.startsWith(PREFIX)) {
          if (!(drawn > 0))
            throw new Refusal({
              code: "bad-value",
              field: name,
              received: String(drawn),
              expected: "a factor above 0",
            });
          knowledge[name.slice(PREFIX.length) as keyof Knowledge] = drawn;
        } else numbers.set(name, drawn);
      });
      const outcome = quick(withNumbers(job.setup, numbers), knowledge);
      return { values: valuesOf(job, outcome) };
    } catch (error) {
      if (error instanceof Refusal) return { refused: error.message };
      throw error;
    }
  };
}

/**
 * Outcomes that are numbers, and `asRead`: the density that a person reads from the height of the curve, believing the
 * setup as written, over the density that is there; 1 where reading and setup are right.
 */
function valuesOf(job: ToleranceJob, outcome: Outcome): Record<string, number | null> {
  const { line: _line, reading, wavelength: _wavelength, ...numbers } = outcome;
  const { nominalReading, nominalDensity } = job;
  const asRead =
    reading === null || nominalReading === null
      ? null
      : (reading / nominalReading) * (nominalDensity / outcome.density);
  return { ...numbers, asRead };
}
