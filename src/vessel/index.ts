export type {
  BeamColumns,
  GridSize,
  MeasuredWall,
  VesselInput,
  VesselNumbers,
  VesselWarning,
} from "./api.ts";
export { beamColumns } from "./columns.ts";
export type { VapourField } from "./field.ts";
export { COARSE_GRID, DEFAULT_GRID, gridSize } from "./grid.ts";
export { type MetalFlows, metalFlows, vesselNumbers } from "./numbers.ts";
export { solveVapour } from "./solve.ts";
