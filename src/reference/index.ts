export type { ForeignGasRecord, SelfBroadeningRecord } from "./broadening.ts";
export {
  BROADENING_GAPS,
  FOREIGN_GAS,
  foreignGasWidths,
  measuredSelfBroadening,
  SELF_BROADENING,
} from "./broadening.ts";
export type { ColourMatching, Illuminant } from "./cie.ts";
export { cie1931, illuminantD65 } from "./cie.ts";
export * from "./constants.ts";
export type { DiffusionRecord, GasCorrelation, LennardJones } from "./gases.ts";
export {
  DIFFUSION,
  DIFFUSION_GAPS,
  diffusionOf,
  GAS_TRANSPORT,
  gasTransport,
  LENNARD_JONES,
  lennardJones,
} from "./gases.ts";
export type {
  CiddorParameters,
  GasDispersion,
  GlassRecord,
  LiquidSellmeier,
  ComplexIndexTable,
  Sellmeier,
} from "./glasses.ts";
export {
  ciddorParameters,
  DISPERSION_GASES,
  fusedSilica,
  sapphire,
  GLASSES,
  gasDispersionOf,
  glassByCode,
  glassCodes,
  complexIndexTable,
  ethanolSellmeier,
  standardAir,
  waterSellmeier,
} from "./glasses.ts";
export type { HyperfineLevel, Isotope, IsotopeShift } from "./isotopes.ts";
export { ISOTOPE_SHIFTS, ISOTOPES, isotopeShiftsOf, isotopesOf, meanMassOf } from "./isotopes.ts";
export type { EmissivityBranch } from "./lamp-light.ts";
export { bandHeads, CARBON_ARC_TEMPERATURE, tungstenEmissivity } from "./lamp-light.ts";
export type { FraunhoferLetter, LampLine } from "./lamps.ts";
export { FRAUNHOFER, LAMP_ELEMENTS, LAMP_LINES, LAMP_WARNINGS, lampLines } from "./lamps.ts";
export type { Line, LineLevel, StrengthChoice } from "./lines.ts";
export { ELEMENTS, knownElement, LINES, lineById, linesOf } from "./lines.ts";
export type { Origin, SourcedValue } from "./record.ts";
export { einsteinA, strengthOfEinsteinA, strengthOfMatrixElement } from "./strengths.ts";
export type {
  PressureEquation,
  PressureEquationId,
  PressureTable,
  VapourPressureRecord,
} from "./vapour-pressure.ts";
export { VAPOUR_PRESSURE_WARNINGS, VAPOUR_PRESSURES, vapourPressureOf } from "./vapour-pressure.ts";
export type { StoredValue } from "./lookup.ts";
export { lookup, storedValues } from "./lookup.ts";
