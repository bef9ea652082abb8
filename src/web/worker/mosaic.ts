/** The picture of a sensor behind a mosaic of filters; a chunk of its own. */
export { mosaicView } from "../../picture/demosaic.ts";
