export type * from "./api.ts";
export { beamStrips, type CurveBundleInput, coldBundle, curveBundle } from "./curve-bundle.ts";
export { type CurveGrid, type CurveGridInput, curveGrid } from "./curve-grid.ts";
export { type DirectVisionDesign, directVision } from "./direct-vision.ts";
export { type Disperser, disperserOf, glassTrain } from "./disperser.ts";
export { type ImageScaleOptions, imageScale, strayAcross } from "./image-scale.ts";
export { angleAfter, directionAfter, type PrismTrain } from "./prism.ts";
export { spectralMap, tracedMap } from "./spectral-map.ts";
export {
  planckRadiance,
  sourcePhotons,
  sourceRadiance,
  tungstenEmissivity,
  usualTemperature,
} from "./source.ts";
export { type BendingCheck, type BendingCheckInput, bendingCheck, type TracedRay } from "./bending-check.ts";
export { type IndexMedium, type RayEnd, type RayOptions, traceRay } from "./eikonal.ts";
export { type VapourMedium, vapourMedium } from "./vapour-medium.ts";
export { AIRY_SIGMA, roundPattern, SINC2_SIGMA, slitPattern } from "./diffraction.ts";
export { type FocusBlur, focalShift, focusBlur } from "./focus.ts";
export { type SmokeInput, smokeSeries } from "./smoke.ts";
export {
  type Layer,
  type SpectroscopeInput,
  type SpectroscopeView,
  throughSpectroscope,
} from "./spectroscope.ts";
export {
  beamDirection,
  type BeamEdges,
  benchEdges,
  colourHeights,
  missedEdge,
  type ThroughBench,
  throughBench,
} from "./through-bench.ts";
export { type LossInput, type LossStep, lossSteps } from "./bench-losses.ts";
export { beamInputs, mapInputs } from "./kept.ts";
export { type LampImage, lampImage, lampShare } from "./lamp-image.ts";
export { colourSize } from "./lateral-colour.ts";
export { fresnelTransmission, passThrough, type TrainPassage } from "./fresnel.ts";
export {
  brightestRate,
  type BudgetInput,
  type BudgetStep,
  type ExposureAdvice,
  exposureAdvice,
  type LightBudget,
  lightBudget,
} from "./light-budget.ts";
export {
  type DirectVisionInput,
  largestApex,
  type PrismPiece,
  type PrismReport,
  prismReport,
} from "./prism-report.ts";
export { linePeak } from "./line-peak.ts";
export { type Blur, type Sharpness, type SlitWish, sharpness, slitsFor } from "./sharpness.ts";
export {
  type BenchElement,
  type BenchElementKind,
  type BenchLayout,
  type BenchRay,
  benchElements,
} from "./bench-elements.ts";
export { USUAL_RAIL } from "./usual-rail.ts";
