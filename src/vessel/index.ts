/**
 * Where the atoms are. Ask `solveVapour` for a field (any vessel: measured wall, map, stated contents), then
 *
 * - `beamColumns`, `fogBand`: what the light meets, and the band fog opens about it;
 * - `crossSection`, `longSection`, `wallTable`, `beamProfile`, `supersaturationField`: tables to draw (stable names; the
 *   figures of reports and page are made of these);
 * - `vesselNumbers`, `metalBudget`, `sensitivities`, `topAdvice`, `coolingAdvice`, `fogLayer`: answers and warnings;
 * - `steadyShell`, `warmUp`, `vapourSeries`, `warmUpCsv`: a heater's balance, in time (from a setup: `heatingSeries`,
 *   `wallAtMinute` of the setup room).
 */
export type {
  BeamColumns,
  CellContents,
  Contents,
  FlameContents,
  GridSize,
  MeasuredWall,
  PrismContents,
  VesselInput,
  VesselNumbers,
  WetWall,
} from "./api.ts";
export { movedShell, shellWall, solveBalancedVapour, type WallReadings, wallReadings } from "./balanced.ts";
export {
  chargeFor,
  type HydrogenEquivalent,
  hydrogenEquivalent,
  type MetalBudget,
  metalBudget,
} from "./charge.ts";
export { beamColumns, type ColumnOptions } from "./columns.ts";
export { COOLING_LADDER, coolingAdvice, type CoolingRow } from "./cooling-advice.ts";
export { crossSectionCsv, type FieldQuantity, fieldNpy, longSectionCsv, npyBytes } from "./export.ts";
export { type BandArrays, type FogBand, fogBand, type FogChance, fogChance } from "./fog-band.ts";
export { type FogLayer, fogLayer, type FogLayerInput } from "./fog-layer.ts";
export type { TubeInput, VapourField } from "./field.ts";
export { COARSE_GRID, DEFAULT_GRID, gridSize } from "./grid.ts";
export { type MetalFlows, metalFlows } from "./flows.ts";
export { vesselNumbers } from "./numbers.ts";
export { TUBE_MATERIALS } from "./materials.ts";
export { cellColumns, flameColumns, type SaltedFlame, type SealedCell } from "./other-vessels.ts";
export type { Cooling, HeatBalance, ShellInput, ShellMap, ShellState } from "./shell-api.ts";
export {
  type BeamProfile,
  beamProfile,
  crossSection,
  longSection,
  type SectionQuantity,
  type SectionTable,
  supersaturationField,
  wallTable,
} from "./sections.ts";
export { type Lever, type Sensitivity, sensitivities } from "./sensitivity.ts";
export { type VapourSeries, vapourSeries, warmUpCsv } from "./series.ts";
export { drySupersaturation } from "./settling.ts";
export { fromEdge, prismColumns } from "./prism-columns.ts";
export { solveVapour } from "./solve.ts";
export { leastIncidence, throughWedge, type Wedge, type WedgePassage } from "./wedge.ts";
export { steadyShell } from "./steady-shell.ts";
export {
  solveThermocoupleVapour,
  type Thermocouple,
  thermocoupleMap,
  thermocoupleWall,
} from "./thermocouples.ts";
export { KEPT_SHARE, type TopAdvice, type TopRow, topAdvice } from "./top-advice.ts";
export { type PowerStep, readyTime, type WarmUp, type WarmUpOptions, warmUp } from "./warm-up.ts";
export type { VesselWarning } from "./warning-api.ts";
