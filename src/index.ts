/**
 * The library's front door: what one needs to go from a setup to a picture and from a picture back to numbers.
 * Everything else is behind the doors of the rooms, such as "crossprism/medium" or "crossprism/reference".
 */
export { indexTable, vapourResponse } from "./medium/index.ts";
export { decodePng, encodePng, type Frame, viewImage } from "./picture/index.ts";
export { check, type Finding } from "./plan/index.ts";
export { formatQuantity, parseQuantity, Refusal, type RefusalRecord } from "./quantity/index.ts";
export { lampLinesFromNames, type Reading, readPicture as read } from "./reading/index.ts";
export {
  type Forecast,
  forecast,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  type Setup,
  setupSchema,
} from "./setup/index.ts";
