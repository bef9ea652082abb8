export type * from "./api.ts";
export { lampLinesFromNames } from "./lamp-names.ts";
export { readPicture } from "./read-picture.ts";
