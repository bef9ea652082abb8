export type { AirState } from "./air.ts";
export {
  airDensity,
  airRefractivity,
  airRefractivityOf,
  airToVacuum,
  standardAirRefractivity,
  vacuumToAir,
} from "./air.ts";
export { gasRefractivityPerDensity, hasGasRefractivity } from "./buffer-gas.ts";
export { glassIndex, glassIndexInAir, glassIndexOf, glassRange } from "./glass.ts";
export type {
  BufferGas,
  LineComponent,
  LineStructure,
  MediumOverrides,
  OpticalResponse,
  PerAtom,
  VapourState,
} from "./api.ts";
export { type TuneOut, tuneOuts, zerosBetweenLines } from "./between.ts";
export { lineComponents, lowerPopulation, vapourComponents } from "./components.ts";
export { closedFormGap, type HalfGap, halfGap } from "./gap.ts";
export { type GasBroadening, gasBroadening } from "./gas-broadening.ts";
export { heatingRefusal } from "./heating.ts";
export { type IndexOptions, type IndexTable, indexTable } from "./index-table.ts";
export {
  DEFAULT_PRESSURE,
  meltingPoint,
  PRESSURE_CHOICES,
  type PressureChoice,
  type Saturation,
  saturatedDensity,
  saturation,
  saturationPressure,
} from "./pressure.ts";
export { type IndexAndAbsorption, perAtom, vapourIndex, vapourResponse } from "./response.ts";
export { type MediumWarning, pressureWarnings, vapourWarnings } from "./warnings.ts";
export { dopplerWidth, type LineWidths, lineWidths, naturalWidth, selfBroadening } from "./widths.ts";
export type { AbsorbanceTable, Dye, DyeInput } from "./dye.ts";
export { dyeMedium } from "./dye.ts";
export type { Flame, FlameInput } from "./flame.ts";
export { flameLayer, flameOpticalDepth, sourceThroughFlame } from "./flame.ts";
export { airMedium, gasMedium, glassMedium } from "./formula-media.ts";
export { type Extinction, extinctionOf, kramersKronig, outsideBound } from "./kramers-kronig.ts";
export type { Medium } from "./medium.ts";
export {
  type DyeData,
  type DyeSolution,
  type Solution,
  solutionMedium,
  type SolutionResponse,
} from "./solution.ts";
export { type SolventName, solventIndex } from "./solvent.ts";
export { type Oscillator, type OscillatorList, oscillatorMedium } from "./oscillators.ts";
export { pulseAt, type PulseTravel, type Travelled, travelPulse } from "./pulse-travel.ts";
export { carryPulse, type PulseInput, type PulseMarks, type PulseReport } from "./pulse.ts";
export {
  type ClassicalComparison,
  classicalComparison,
  type KramersKronigResidual,
  kramersKronigResidual,
  type LinePair,
  linePairs,
  strengthSum,
} from "./sum-rules.ts";
export { vapourMedium } from "./vapour-medium.ts";
export { completeResponse, groupIndex, phaseVelocity, refractivitySlope } from "./velocities.ts";
export { type WaterDispersion, waterDispersion, waterIndex, waterMedium, waterTableMedium } from "./water.ts";
export { curveOfGrowth, type EquivalentWidth, equivalentWidth } from "./curve-of-growth.ts";
export { mixtureResponse } from "./mixture.ts";
export { edgeDeflectionLimit, peakRefractivity, peakSusceptibility } from "./self-broadened.ts";
export { type ModelDifference, modelDifference, twoOscillatorResponse } from "./two-oscillators.ts";
