export type * from "./api.ts";
export { type Cause, type Diagnosis, diagnose } from "./diagnose.ts";
export { CAUSE_CODES, CAUSES, type CauseCode } from "./diagnose-causes.ts";
export { type Glance, type GlanceReader, prepareGlance } from "./glance.ts";
export {
  FEWEST_MARKS,
  type HandMark,
  type HandReader,
  type HandReading,
  type LineMark,
  prepareHandMarks,
} from "./hand-marks.ts";
export { type LineMeter, meterLine } from "./line-meter.ts";
export { lampLinesFromNames } from "./lamp-names.ts";
export { bootstrapReading } from "./bootstrap.ts";
export { readPicture } from "./read-picture.ts";
