import type { RailInput } from "./api.ts";

/** Distances as a bench of this size usually has them, m: common practice, no source. */
export const USUAL_RAIL: RailInput = {
  lampToCondenser: 0.14,
  condenserToSlit: 0.16,
  collimatorToTube: 0.07,
  tubeToLens: 0.07,
  collimatorToDisperser: 0.07,
  disperserToCamera: 0.07,
};
