export type * from "./contract.ts";
export { ENTRY_KINDS, NOTEBOOK_API, PICTURE_ROLES } from "./contract.ts";
export {
  addPicture,
  addRemark,
  addReport,
  addSetup,
  documentOf,
  logTemperatures,
  type NewReport,
  startRun,
} from "./bench-entries.ts";
export { addForecast, addPlan, keptFrames, type NewComputed, takeReading } from "./computed-entries.ts";
export { type Draft, Notebook, type NotebookOptions } from "./notebook.ts";
export { type Decode, provenanceOf, readAgain } from "./recompute.ts";
export { CLOSE, type Verification, type VerifiedEntry, verifyNotebook, type VerifyState } from "./verify.ts";
export type { Difference } from "./compare.ts";
export { exportNotebook, type Exported, type ExportOptions } from "./export.ts";
export { type Imported, importNotebook } from "./import.ts";
export { type Mended, mendNotebook } from "./mend.ts";
export type { Lost } from "./salvage.ts";
