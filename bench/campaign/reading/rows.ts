/** One line of the campaign of difficult pictures: what was read, how far from the truth. */
import { Refusal } from "../../../src/quantity/refusal.ts";
import { type Measured, type Reading, readPicture } from "../../../src/reading/index.ts";
import { keptRows } from "../../lib/kept-rows.ts";
import type { DrawnCase, Size } from "./cases.ts";

export interface Row {
  /** missing in rows of before 2026-11-26: small */
  readonly size?: Size;
  readonly source: string;
  readonly seed: number;
  readonly number: number;
  readonly element: string;
  readonly trouble: string;
  /** refusal's code, or the verdict */
  readonly outcome: string;
  /** relative errors, m, relative, rad; NaN where not measured */
  readonly gradient: number;
  readonly density: number;
  readonly separation: number;
  readonly ratio: number;
  readonly tilt: number;
  /** combined standard uncertainties of gradient and density, shares of their values */
  readonly claimed: { readonly gradient: number; readonly density: number };
  /** errors over the combined standard uncertainty */
  readonly pulls: { readonly gradient: number; readonly density: number };
  readonly chi: number;
  readonly warnings: readonly string[];
  /** processor time of the reading, s */
  readonly seconds: number;
}

const NOTHING = { gradient: Number.NaN, density: Number.NaN };

export function rowOf(one: DrawnCase): Row {
  const { size, source, seed, number, element, trouble, hot, cold, lamp, lampLines, setup } = one;
  const started = process.cpuUsage().user;
  const known = { size, source, seed, number, element, trouble };
  const spent = (): number => (process.cpuUsage().user - started) / 1e6;
  try {
    const reading = readPicture({
      hot,
      ...(cold ? { cold } : {}),
      ...(lamp && lampLines ? { lamp, lampLines } : {}),
      setup,
    });
    return { ...known, ...errorsOf(reading, one), seconds: spent() };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return {
      ...known,
      ...NOTHING,
      separation: Number.NaN,
      ratio: Number.NaN,
      tilt: Number.NaN,
      outcome: error.record.code,
      claimed: NOTHING,
      pulls: NOTHING,
      chi: Number.NaN,
      warnings: [],
      seconds: spent(),
    };
  }
}

function errorsOf(reading: Reading, { truth, lamp }: DrawnCase) {
  const pull = (m: Measured, wanted: number): number => (m.value - wanted) / m.combinedUncertainty;
  const share = (m: Measured): number => Math.abs(m.combinedUncertainty / m.value);
  const { columnGradient, columnDensity, lineSeparation, fRatio, tilt } = reading;
  return {
    outcome: reading.verdict.code,
    gradient: columnGradient.value / truth.gradient - 1,
    density: columnDensity.value / truth.density - 1,
    separation:
      lineSeparation && truth.separation !== null && lamp
        ? lineSeparation.value - truth.separation
        : Number.NaN,
    ratio: fRatio && truth.ratio !== null ? fRatio.value / truth.ratio - 1 : Number.NaN,
    tilt: tilt.value - truth.tilt,
    claimed: { gradient: share(columnGradient), density: share(columnDensity) },
    pulls: {
      gradient: pull(columnGradient, truth.gradient),
      density: pull(columnDensity, truth.density),
    },
    chi: reading.reducedChiSquare,
    warnings: reading.warnings,
  };
}

/** Rows of an earlier run; none where there is no file. */
export function rowsIn(file: string): Row[] {
  return (keptRows(file) as Row[]).map(revived);
}

/** JSON has no NaN: what was not measured comes back as null. */
function revived(row: Row): Row {
  const number = (v: number | null): number => v ?? Number.NaN;
  const both = ({ gradient, density }: Row["pulls"]): Row["pulls"] => ({
    gradient: number(gradient),
    density: number(density),
  });
  return {
    ...row,
    gradient: number(row.gradient),
    density: number(row.density),
    separation: number(row.separation),
    ratio: number(row.ratio),
    tilt: number(row.tilt),
    chi: number(row.chi),
    claimed: both(row.claimed),
    pulls: both(row.pulls),
  };
}
