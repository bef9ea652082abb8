/** From the rows of a tolerance job to its answer: first-order budget, spread of the draws, what to improve first. */
import type { Row, ToleranceJob } from "./tolerance.ts";

/** What one input does to one outcome. */
export interface Share {
  readonly input: string;
  /** change of the outcome per unit of the input, SI */
  readonly sensitivity: number;
  /** change of the outcome by one standard uncertainty of the input */
  readonly contribution: number;
  /** share of the variance, correlations split evenly between their two inputs; sums to 1 */
  readonly share: number;
  /** by how much the standard uncertainty falls when this input's is halved, 0 to 1 */
  readonly gain: number;
}

export interface Spread {
  readonly nominal: number;
  readonly firstOrder: { readonly standardUncertainty: number; readonly shares: readonly Share[] };
  /** of the draws; null where there were fewer than two */
  readonly draws: {
    readonly mean: number;
    readonly standardDeviation: number;
    /** at 2.5, 16, 50, 84 and 97.5 % */
    readonly quantiles: readonly number[];
    /** standard error of the standard deviation, normal draws */
    readonly standardError: number;
  } | null;
  /** true where draws and first order disagree by more than their statistics allow: then trust the draws */
  readonly nonlinear: boolean;
  /** input to improve first; null where nothing spreads */
  readonly improveFirst: string | null;
}

export interface ToleranceAnswer {
  readonly spreads: Readonly<Record<string, Spread>>;
  /** draws that lay outside what can be answered, with the first reason */
  readonly refused: number;
  readonly firstRefusal: string | null;
}

/** @param rows one per unit, in their order */
export function toleranceAnswer(job: ToleranceJob, rows: readonly Row[]): ToleranceAnswer {
  const [nominal] = rows;
  if (nominal === undefined || "refused" in nominal)
    throw new Error("tolerance: the nominal setup has no row of values");
  const refusals = rows.flatMap((row) => ("refused" in row ? [row.refused] : []));
  const spreads: Record<string, Spread> = {};
  for (const [name, value] of Object.entries(nominal.values)) {
    if (value !== null) spreads[name] = spreadOf(job, rows, name, value);
  }
  return { spreads, refused: refusals.length, firstRefusal: refusals[0] ?? null };
}

function valueIn(row: Row | undefined, name: string): number | undefined {
  return row === undefined || "refused" in row ? undefined : (row.values[name] ?? undefined);
}

function spreadOf(job: ToleranceJob, rows: readonly Row[], name: string, nominal: number): Spread {
  const n = job.inputs.length;
  // Central difference over ±½ standard uncertainty; one-sided where one side was refused.
  const contributions = job.inputs.map((_, i) => {
    const up = valueIn(rows[1 + 2 * i], name);
    const down = valueIn(rows[2 + 2 * i], name);
    if (up !== undefined && down !== undefined) return up - down;
    return up !== undefined ? 2 * (up - nominal) : down !== undefined ? 2 * (nominal - down) : 0;
  });
  const variance = (scale: (i: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++)
        sum += job.correlation[i * n + j] * contributions[i] * scale(i) * contributions[j] * scale(j);
    }
    return Math.max(0, sum);
  };
  const total = variance(() => 1);
  const shares = job.inputs.map((input, i): Share => {
    let own = 0;
    for (let j = 0; j < n; j++) own += job.correlation[i * n + j] * contributions[i] * contributions[j];
    return {
      input: input.name,
      sensitivity: input.standard === 0 ? 0 : contributions[i] / input.standard,
      contribution: contributions[i],
      share: total === 0 ? 0 : own / total,
      gain: total === 0 ? 0 : 1 - Math.sqrt(variance((k) => (k === i ? 0.5 : 1)) / total),
    };
  });
  const standardUncertainty = Math.sqrt(total);
  const draws = statistics(rows.slice(1 + 2 * n).flatMap((row) => valueIn(row, name) ?? []));
  const best = shares.reduce((a, b) => (b.gain > a.gain ? b : a), shares[0]);
  return {
    nominal,
    firstOrder: {
      standardUncertainty,
      shares: [...shares].sort((a, b) => Math.abs(b.share) - Math.abs(a.share)),
    },
    draws,
    nonlinear: draws !== null && isNonlinear(nominal, standardUncertainty, draws),
    improveFirst:
      best !== undefined && best.gain > 1e-6 && standardUncertainty > ROUNDING * Math.abs(nominal)
        ? best.input
        : null,
  };
}

function statistics(values: readonly number[]): Spread["draws"] {
  const count = values.length;
  if (count < 2) return null;
  const mean = values.reduce((sum, v) => sum + v, 0) / count;
  const standardDeviation = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (count - 1));
  const sorted = Float64Array.from(values).sort();
  const quantile = (p: number): number => {
    const at = p * (count - 1);
    const low = Math.floor(at);
    return sorted[low] + (at - low) * (sorted[Math.min(count - 1, low + 1)] - sorted[low]);
  };
  return {
    mean,
    standardDeviation,
    quantiles: [0.025, 0.16, 0.5, 0.84, 0.975].map(quantile),
    standardError: standardDeviation / Math.sqrt(2 * (count - 1)),
  };
}

/** Relative spread below which draws differ by rounding alone. */
const ROUNDING = 1e-9;

/** Spread off by more than 10 % or mean off by more than a tenth of the spread, both beyond four standard errors. */
function isNonlinear(
  nominal: number,
  standardUncertainty: number,
  draws: NonNullable<Spread["draws"]>,
): boolean {
  const { mean, standardDeviation, standardError } = draws;
  if (standardDeviation <= ROUNDING * Math.abs(nominal)) return false;
  const spread = Math.abs(standardDeviation - standardUncertainty);
  const shift = Math.abs(mean - nominal);
  return (
    (spread > 0.1 * standardUncertainty && spread > 4 * standardError) ||
    (shift > 0.1 * standardDeviation && shift > 4 * standardError * Math.SQRT2)
  );
}
