/** What fog would change of the length over which the vapour counts as dense as it acts. */
import { Refusal } from "../quantity/refusal.ts";
import type { Setup } from "../setup/api.ts";
import { beamColumns, COARSE_GRID, fogBand, solveVapour, vesselNumbers } from "../vessel/index.ts";

/**
 * Relative standard uncertainty of ∫N dz squared over ∫N² dz from not knowing whether fog stands: an even distribution
 * between the vapour without fog and the one held at saturation. 0 where fog is not expected, and for a vessel that
 * cannot be solved.
 */
export function fogSpread(setup: Setup): number {
  try {
    const field = solveVapour(setup.vessel, COARSE_GRID);
    const height = setup.path.beamHeight;
    const columns = beamColumns(field, Float64Array.of(height));
    const band = fogBand(field, columns, vesselNumbers(field, height).midSupersaturation);
    if (band.chance === "none") return 0;
    const length = ({ columnDensity, effectiveDensity }: typeof columns): number =>
      columnDensity[0] / effectiveDensity[0];
    return Math.abs(length(band.saturated) / length(columns) - 1) / Math.sqrt(12);
  } catch (error) {
    if (error instanceof Refusal) return 0;
    throw error;
  }
}
