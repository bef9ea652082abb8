/** A solution of the multigrid, or a sentence why this vessel has none. */
import { type MultigridResult, NotConverged, type PolarMultigrid } from "../numerics/multigrid.ts";
import { Refusal } from "../quantity/refusal.ts";

/** Every wall takes a dozen cycles; a disc a thousand times wider than long never comes so far on a fine grid, by rounding alone. */
const MOST_CYCLES = 60;

export function solveOrRefuse(solver: PolarMultigrid, tolerance: number): MultigridResult {
  try {
    return solver.solve(tolerance, MOST_CYCLES);
  } catch (error) {
    if (!(error instanceof NotConverged)) throw error;
    const { radius, zFaces } = solver.grid;
    const length = zFaces[zFaces.length - 1] - zFaces[0];
    throw new Refusal({
      code: "vessel-too-flat",
      field: "vessel.length",
      received: `a vessel ${length.toPrecision(3)} m long and ${(2 * radius).toPrecision(3)} m wide`,
      expected: "a vessel that is not many times wider than long, which the solver can follow",
    });
  }
}
