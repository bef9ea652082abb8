export { cautionsFor } from "./cautions.ts";
export { check, type Verdict, verdict } from "./check.ts";
export { type Blur, tallestLine, wavelengthBlur } from "./curve-findings.ts";
export type { Finding, Remedy } from "./finding.ts";
export { gentleTop, layering } from "./gentle-top.ts";
export {
  acuityLength,
  type BlueLight,
  blueLight,
  type Hydrogen,
  hydrogenYield,
  plateStress,
  plateThickness,
} from "./limits.ts";
export { r2Point, SOBOL_DIMENSIONS, sobolPoint } from "./low-discrepancy.ts";
export { OUTCOMES, type OutcomeName, type OutcomeWord, outcomeWord } from "./outcomes.ts";
export { type Knowledge, type Outcome, type Quick, quickForecast, type QuickOptions } from "./quick.ts";
export { type Share, type Spread, type ToleranceAnswer, toleranceAnswer } from "./spread.ts";
export {
  type Axis,
  type Filling,
  MOST_POINTS,
  parseAxis,
  settingsOf,
  type SweepJob,
  sweepJob,
} from "./sweep.ts";
export {
  KNOWLEDGE,
  type Row,
  type ToleranceJob,
  toleranceJob,
  type ToleranceWish,
  type Uncertain,
} from "./tolerance.ts";
export { type Job, unitCount, unitRunner } from "./units.ts";
export { type Bound, type Choice, choose, type ChooseWish, type Chosen } from "./choose.ts";
export { compareElements, type ElementRow } from "./elements.ts";
export type { RunStep } from "./run-alignment.ts";
export type { HeatRow } from "./run-heating.ts";
export { heatingTime, type RunSheet, runSheet, stopNow } from "./run-sheet.ts";
export { runSheetHtml } from "./run-sheet-html.ts";
export { runSheetText } from "./run-sheet-text.ts";
export { heatAt, type HeatCurve, timeReaching } from "./heat-curve.ts";
export { type HeatPlan, heatPlan } from "./heat-plan.ts";
export { acuityAt, type Screen, screenLuminance, type ScreenView, screenView } from "./screen.ts";
export { type LoggerTable, loggerTable, type Place, PLACES } from "./logger-table.ts";
export { type Wish, WISHES } from "./wishes.ts";
