export type { CameraInput, Construction, MediumInput, MetalInput, Setup, SolutionInput } from "./api.ts";
export { curveFog, type CurveFog } from "./fog-curve.ts";
export { type DarkLedger, ledgerOf } from "./accounts.ts";
export { bendingOf } from "./bending.ts";
export { BUFFER_GASES, COOLINGS, HEATABLE, TUBE_MATERIALS, WINDOW_MATERIALS } from "./choices.ts";
export type {
  ByLineField,
  ChoiceField,
  Field,
  FlagField,
  IntegerField,
  NumberField,
  QuantityField,
  TableField,
  TextField,
} from "./field-kinds.ts";
export { FIELDS, fieldAt } from "./fields.ts";
export { type Band, type ForecastFog, forecastFog, type LineBand } from "./fog.ts";
export {
  heatedShell,
  heaterSteps,
  heatingSeries,
  type Minute,
  USUAL_DURATION,
  wallAtMinute,
} from "./heating.ts";
export { fingerprint } from "./fingerprint.ts";
export { frameOf } from "./frame.ts";
export { coldCurve, curveStage } from "./curve-stage.ts";
export {
  type CurvePoints,
  curvePoints,
  type Forecast,
  forecast,
  lightOf,
  pictureStage,
  PROGRAM_VERSION,
  type Provenance,
} from "./forecast.ts";
export { vapourStage } from "./vapour-stage.ts";
export type {
  CurveStage,
  ForecastOptions,
  MetalStage,
  SolutionOptics,
  SolutionStage,
  VapourStage,
} from "./stages.ts";
export { linesIn, metalOf, stateOf } from "./metal.ts";
export { metalStage } from "./metal-stage.ts";
export { type LineGap, lineGap } from "./gap.ts";
export { getPath, isObject, type Json, type JsonObject, leaves, parseJsonObject, setPath } from "./json.ts";
export { overrideSetup } from "./override.ts";
export { expectation } from "./expectation.ts";
export { examineSetup, inBalance, parseSetup, withShell } from "./examine.ts";
export { type Examined, examineFields, SETUP_VERSION } from "./parse.ts";
export { SETUP_SCHEMA_ID, setupSchema } from "./schema.ts";
