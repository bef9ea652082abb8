export { cautionsFor } from "./cautions.ts";
export { check, wavelengthBlur } from "./check.ts";
export type { Finding, Remedy } from "./finding.ts";
