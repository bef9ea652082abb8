/** The vapour of a tube, solved: what `solveVapour` gives and everything else here reads. */
import type { PolarGrid } from "../numerics/polar-grid.ts";
import type { GridSize, VesselInput } from "./api.ts";
import type { WallMap } from "./wall.ts";

/** A tube without its wall, which may be measured, or follow from a balance of heat. */
export type TubeInput = Omit<VesselInput, "wall">;

/**
 * Cell arrays are [(k · angular + j) · radial + i], wall arrays [k · angular + j]; see numerics/polar-grid.ts.
 * The arrays belong to the field: treat them as read-only.
 */
export interface VapourField {
  readonly input: TubeInput;
  readonly size: GridSize;
  readonly grid: PolarGrid;
  readonly wall: WallMap;
  /** wet share of each wall face, 1; left out where the whole wall is wet */
  readonly wet?: Float64Array;
  /** pressure in the hot tube, Pa */
  readonly pressure: number;
  /**
   * "diffusion": gas everywhere; "heat-pipe": p_sat of the hot wall reaches the pressure, the field is the limit x → 1
   * there; "stated": the contents are stated, nothing was solved
   */
  readonly regime: "diffusion" | "heat-pipe" | "stated";
  /** K */
  readonly gasTemperature: Float64Array;
  /** mole fraction x of the metal, 0 ≤ x < 1 */
  readonly moleFraction: Float64Array;
  /** metal atoms N = x p/(kT), m⁻³ */
  readonly density: Float64Array;
  /** Kirchhoff potential of the gas temperature, W/m */
  readonly heatPotential: Float64Array;
  /** ψ = −ln(1 − x), 1 */
  readonly vapourPotential: Float64Array;
  /** gas temperature at the wall, mean over each face, K */
  readonly wallTemperature: Float64Array;
  /** metal atoms at the wall, mean over each face, m⁻³ */
  readonly wallDensity: Float64Array;
  /** mole fraction at the wall, mean over each face, 1 */
  readonly wallMoleFraction: Float64Array;
  /** atoms that leave each wall face for the bore, 1/s; negative where they settle */
  readonly evaporation: Float64Array;
  readonly convergence: {
    /** V-cycles for temperature, and for vapour over all pressures tried */
    readonly heatCycles: number;
    readonly vapourCycles: number;
    /** relative residuals at the end, 1 */
    readonly heatResidual: number;
    readonly vapourResidual: number;
  };
}
