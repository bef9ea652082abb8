/** The uncertainty budget: what the noise does, apart from what the setup's own numbers and the published constants do. */
import { metalOf } from "../setup/index.ts";
import type { FitCovariance } from "./covariance.ts";
import type { ParameterName } from "./fit-parameters.ts";
import { lineById } from "../reference/index.ts";
import type { BudgetLine, Measured, Reading } from "./api.ts";
import { fogSpread } from "./fog-length.ts";
import { atRest, coarseCounts } from "./fit-faults.ts";
import type { LineAtPlace } from "./gaps.ts";
import { darkNoiseResponse, gammaResponse } from "./first-order.ts";
import { evaluateTables } from "./line-tables.ts";
import type { FittedPicture } from "./fit-picture.ts";

/** Typical standard uncertainties where the setup states none; common practice, no source. */
const FOCAL_LENGTH = 0.01;
const HEATED_LENGTH = 0.05;
const GAS_WIDTH = 0.2;
const GAMMA = 0.02;
/** Of a line's strength where its table gives no error, share. */
const STRENGTH = 0.01;
/** Share of the other valley (valleys.ts) below which it is not spoken of. */
const NO_DOUBT = 1e-4;
/** What smoke that dims a gap's flank by all of its light does to the density, share: seen on drawn pictures (docs/reading-campaign.md). */
const SMOKE = 0.4;
/** How far the camera's stated read noise is believed where a file hides it; common practice, no source. */
const HIDDEN_NOISE = 2;
/** Density's share of error where a count of the file hides the faint light of the gap's flanks: seen on drawn pictures. */
const COARSE = 0.06;
/** Share of an answer that a fit which did not come to rest may be off by: no more than a word for "unknown". */
const UNKNOWN = 0.5;
/** The two published prefactors of resonance broadening differ by 4.3 % (data/broadening.json). */
const SELF_WIDTH = 0.043;

/** An answer before its budget is drawn up. */
export type Noisy = Omit<Measured, "combinedUncertainty">;

export interface NoisyAnswers {
  readonly columnGradient: Noisy;
  readonly columnDensity: Noisy;
  readonly lineSeparation: Noisy | null;
  readonly fRatio: Noisy | null;
  readonly tilt: Noisy;
}

export type Answers = Pick<
  Reading,
  "columnGradient" | "columnDensity" | "lineSeparation" | "fRatio" | "tilt"
>;

/** Each answer with all lines of the budget that concern it, added in squares. */
export function combined(answers: NoisyAnswers, budget: readonly BudgetLine[]): Answers {
  const whole = (name: keyof Answers, noisy: Noisy): Measured => ({
    ...noisy,
    combinedUncertainty: Math.hypot(...budget.map((line) => line[name])),
  });
  const { columnGradient, columnDensity, lineSeparation, fRatio, tilt } = answers;
  return {
    columnGradient: whole("columnGradient", columnGradient),
    columnDensity: whole("columnDensity", columnDensity),
    lineSeparation: lineSeparation && whole("lineSeparation", lineSeparation),
    fRatio: fRatio && whole("fRatio", fRatio),
    tilt: whole("tilt", tilt),
  };
}

export function budgetOf(
  fitted: FittedPicture,
  answers: NoisyAnswers,
  covariance: FitCovariance,
): BudgetLine[] {
  const assumed = (name: ParameterName): number => covariance.assumed({ [name]: 1 });
  const perRatio = answers.fRatio ? answers.fRatio.value / fitted.fit.values["strength ratio"] : 0;
  const g = Math.abs(answers.columnGradient.value);
  const c = answers.columnDensity.value;
  const line = (
    cause: string,
    kind: BudgetLine["kind"],
    parts: Partial<Omit<BudgetLine, "cause" | "kind">>,
  ): BudgetLine => ({
    cause,
    kind,
    columnGradient: 0,
    columnDensity: 0,
    lineSeparation: 0,
    fRatio: 0,
    tilt: 0,
    ...parts,
  });
  const share = selfShare(fitted);
  const strength = Math.max(0, ...fitted.assignment.pairs.map(({ line: of }) => strengthShare(of)));
  const lines = [
    line("noise of the picture", "statistical", {
      columnGradient: answers.columnGradient.standardUncertainty,
      columnDensity: answers.columnDensity.standardUncertainty,
      lineSeparation: answers.lineSeparation?.standardUncertainty ?? 0,
      fRatio: answers.fRatio?.standardUncertainty ?? 0,
      tilt: answers.tilt.standardUncertainty,
    }),
    line("assumed shape of the gradient across the beam", "systematic", {
      columnGradient: assumed("column gradient"),
      columnDensity: assumed("column density"),
      fRatio: assumed("strength ratio") * Math.abs(perRatio),
      tilt: covariance.assumed({ roll: 1, slope: 1 }),
    }),
    heightLine(fitted, (columnGradient, cause) => line(cause, "systematic", { columnGradient }), g),
    line(`heated length (${HEATED_LENGTH * 100} %)`, "systematic", {
      columnDensity: (c * HEATED_LENGTH * share) / (1 + share),
    }),
    line(`self-broadening (${(SELF_WIDTH * 100).toFixed(1)} %)`, "systematic", {
      columnDensity: (c * SELF_WIDTH * share) / (1 + share),
    }),
    line("fog: vapour between linear diffusion and saturation", "systematic", {
      columnDensity: (c * fogSpread(fitted.setup) * share) / (1 + share),
    }),
    line("published oscillator strength", "systematic", {
      columnGradient: g * strength,
      // Blackness goes with strength times width, and the width with strength again.
      columnDensity: (2 * c * strength) / (1 + share),
    }),
  ];
  if (metalOf(fitted.setup, "a reading").overrides.gasWidth !== 0)
    lines.push(
      line(`broadening by the gas (${GAS_WIDTH * 100} %)`, "systematic", {
        columnDensity: (c * GAS_WIDTH * (1 - share)) / (1 + share),
      }),
    );
  if (fitted.rival !== null && fitted.rival.share > NO_DOUBT) {
    const { values, share: doubt } = fitted.rival;
    // Either valley with its own share: the standard deviation of the two.
    const apart = (name: ParameterName): number =>
      Math.sqrt(doubt * (1 - doubt)) * Math.abs(values[name] - fitted.fit.values[name]);
    lines.push(
      line("to which side of the beam the gradient grows", "systematic", {
        columnGradient: apart("column gradient"),
        columnDensity: apart("column density"),
        fRatio: apart("strength ratio") * Math.abs(perRatio),
        tilt: Math.hypot(apart("roll"), apart("slope")),
      }),
    );
  }
  if (fitted.lossBeside > 0)
    lines.push(
      line("smoke or a shadow beside the line's own gap", "systematic", {
        columnDensity: c * SMOKE * fitted.lossBeside,
      }),
    );
  if (fitted.stored.step > 0) {
    const shift = darkNoiseResponse(fitted, HIDDEN_NOISE);
    lines.push(
      line(`noise of the dark, hidden within a count (a factor of ${HIDDEN_NOISE})`, "systematic", {
        columnGradient: Math.abs(shift.columnGradient),
        columnDensity: Math.abs(shift.columnDensity),
      }),
    );
  }
  if (coarseCounts(fitted))
    lines.push(
      line("counts of the file coarser than the noise in the dark", "systematic", {
        columnDensity: c * COARSE,
      }),
    );
  if (!atRest(fitted.fit))
    lines.push(
      line("the fit did not come to rest", "systematic", {
        columnGradient: g * UNKNOWN,
        columnDensity: c * UNKNOWN,
      }),
    );
  if (fitted.gamma !== 1) {
    const shift = gammaResponse(fitted, GAMMA);
    lines.push(
      line(`gamma of the picture (± ${GAMMA})`, "systematic", {
        columnGradient: Math.abs(shift.columnGradient),
        columnDensity: Math.abs(shift.columnDensity),
      }),
    );
  }
  return lines;
}

/** The height scale: focal length and pixel as stated, or the moved slit with the collimator's focal length. */
function heightLine(
  { heightScale }: FittedPicture,
  line: (gradient: number, cause: string) => BudgetLine,
  gradient: number,
): BudgetLine {
  if (heightScale === undefined)
    return line(gradient * FOCAL_LENGTH, `focal length and camera scale (${FOCAL_LENGTH * 100} %)`);
  const measured = heightScale.standardUncertainty / Math.abs(heightScale.pixelsPerRadian);
  const share = Math.hypot(measured, FOCAL_LENGTH);
  return line(
    gradient * share,
    `height scale by the moved slit, collimator (${(share * 100).toPrecision(2)} %)`,
  );
}

/** Share of the Lorentz width in the wing that is self-broadening, 0…1. */
export function selfShare(fitted: FittedPicture): number {
  const { setting, fit } = fitted;
  const at = Float64Array.of(setting.anchors[0] + 5e-11);
  const [dense, thin] = [new Float64Array(1), new Float64Array(1)];
  const density = fit.values["column density"] / setting.heatedLength;
  evaluateTables(
    setting.tables,
    at,
    setting.tables.lines.map(() => 1),
    density,
    new Float64Array(1),
    dense,
    thin,
  );
  return dense[0] > 0 ? Math.min(Math.max(1 - thin[0] / dense[0], 0), 1) : 0;
}

/** Published standard uncertainty of a line's strength, share; where none is published STRENGTH. */
export function strengthShare(line: Pick<LineAtPlace, "id" | "strength">): number {
  const published = lineById(line.id)?.strengthUncertainty;
  return published === undefined ? STRENGTH : published / line.strength;
}
