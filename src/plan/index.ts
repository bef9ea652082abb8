export { cautionsFor } from "./cautions.ts";
export { check, type Verdict, verdict } from "./check.ts";
export { type Blur, tallestLine, wavelengthBlur } from "./curve-findings.ts";
export type { Finding, Remedy } from "./finding.ts";
export { gentleTop, layering } from "./gentle-top.ts";
export {
  acuityLength,
  type BlueLight,
  blueLight,
  type Hydrogen,
  hydrogenYield,
  plateStress,
  plateThickness,
} from "./limits.ts";
