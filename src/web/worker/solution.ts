/** The first stage of any setup, prisms with dye included; a chunk of its own. */
export { vapourStage } from "../../setup/vapour-stage.ts";
