export type * from "./api.ts";
export { type AdoptedReading, adoptUntilSettled } from "./adopt-again.ts";
export { adoptReading, type Adopted, type Adoption } from "./adopt.ts";
export { derivedWords } from "./derived-words.ts";
export { type DarkLine, type DarkLineInput, type DarkLines, readDarkLines } from "./dark-line.ts";
export { heightScale, type HeightScaleInput } from "./height-scale.ts";
export type { Area, HandMarks, MarkedPoint, ScaleMark } from "./marks.ts";
export { parseMarks } from "./marks-file.ts";
export { type Cause, type Diagnosis, type DiagnosisInput, diagnose } from "./diagnose.ts";
export { lookAt, type SeenFrame } from "./background.ts";
export { CAUSE_CODES, CAUSES, type CauseCode, type CauseGroup } from "./diagnose-causes.ts";
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
export { type QuarterTurn, turnedFrames, turnWanted } from "./quarter-turn.ts";
export { readShared, type SharedReading } from "./read-shared.ts";
export { readPicture } from "./read-picture.ts";
