export type * from "./api.ts";
export { layBeside } from "./beside.ts";
export { averageFrames, flattened, type MeanFrame } from "./combine.ts";
export { FALSE_COLOUR_NOTE, falseShare, linearRgb, screenValue, spectralHue, tristimulus } from "./colour.ts";
export { type Audience, audienceOf, slitsForAudience } from "./audience.ts";
export { asTheEyeSees } from "./eye-sees.ts";
export { demosaic, mosaicView } from "./demosaic.ts";
export { decodePicture } from "./decode.ts";
export { evenMosaic, mosaicFactors } from "./even-mosaic.ts";
export { expose } from "./expose.ts";
export { record, type Seen } from "./record.ts";
export { responseOf } from "./sensor-response.ts";
export { type Signal, signalAlong } from "./signal.ts";
export { soften, type Softness } from "./soften.ts";
export { type LampLine, renderLamp } from "./lamp.ts";
export { type LightOptions, renderLight, type Sensor } from "./light.ts";
export { decodePng, encodePng, LARGEST_PIXELS } from "./png.ts";
export { cropped, type Turn, TURNS, turned } from "./turn.ts";
export { frameOfView, lightOfFrame, type ViewOptions, viewImage } from "./view.ts";
export { createWorkspace, type Stretch, type Workspace } from "./workspace.ts";
export { FATE_TINTS, FATE_WORDS, FATES, type Fate } from "./fates.ts";
export {
  type ColumnShares,
  columnShares,
  type Ledger,
  type LedgerEdges,
  ledger,
  ledgerTotals,
} from "./ledger.ts";
export { ledgerStrip, tintPicture } from "./tint.ts";
export { openY4m, type Slice, spreadTable, type Y4mFilm } from "./y4m.ts";
