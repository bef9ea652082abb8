export { asin, atan, atan2 } from "./arcs.ts";
export { exp, expm1 } from "./exp.ts";
export { asinh, cosh, sinh } from "./hyperbolic.ts";
export { log, log1p, log10 } from "./log.ts";
export { cbrt, hypot, pow } from "./power.ts";
export { cos, sin, tan } from "./trig.ts";
