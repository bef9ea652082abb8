/** The ramp of the figures: the one of the reports. */
export { rampFor } from "../../report/ramp.ts";
