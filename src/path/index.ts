export type * from "./api.ts";
export { beamStrips, type CurveBundleInput, coldBundle, curveBundle } from "./curve-bundle.ts";
export { type CurveGrid, type CurveGridInput, curveGrid } from "./curve-grid.ts";
export { type DirectVisionDesign, directVision } from "./direct-vision.ts";
export { type Disperser, disperserOf, glassTrain } from "./disperser.ts";
export { type ImageScaleOptions, imageScale } from "./image-scale.ts";
export { angleAfter, directionAfter, type PrismTrain } from "./prism.ts";
export { spectralMap, tracedMap } from "./spectral-map.ts";
export { planckRadiance, sourcePhotons, sourceRadiance, tungstenEmissivity } from "./source.ts";
