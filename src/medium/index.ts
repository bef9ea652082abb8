export type { AirState } from "./air.ts";
export {
  airDensity,
  airRefractivity,
  airRefractivityOf,
  airToVacuum,
  standardAirRefractivity,
  vacuumToAir,
} from "./air.ts";
export { gasRefractivityPerDensity, hasGasRefractivity } from "./buffer-gas.ts";
export { FUSED_SILICA, glassIndex, glassIndexInAir, glassIndexOf } from "./glass.ts";
