/** Types of the vessel room: where the atoms are. SI units; z along the light, y up, x to the right. */
import type { ShellMap } from "./shell-api.ts";
import type { VesselWarning } from "./warning-api.ts";

/** Wall temperatures as thermocouples tell them. */
export interface MeasuredWall {
  readonly kind: "measured";
  /** metal along the bottom of the heated length, K */
  readonly bottom: number;
  /** top of the heated length, K */
  readonly top: number;
  /** wall beyond the heated length and at the windows, K */
  readonly ends: number;
  /** full angle of the hot strip around the bottom, rad, 0 < hotStrip < 2π */
  readonly hotStrip: number;
}

/**
 * The part of the wall that is wet with metal; the rest is dry and takes and gives none. Left out, a bound is no bound.
 */
export interface WetWall {
  /** full angle around the bottom, rad, 0 < strip < 2π */
  readonly strip?: number;
  /** from and to along the tube, m from mid-length */
  readonly from?: number;
  readonly to?: number;
}

/** A sealed glass cell in an oven: uniform vapour, its pressure set by the coldest point. */
export interface CellContents {
  readonly kind: "cell";
  /** coldest point, where the metal lies, K */
  readonly sideArm: number;
  /** body of the cell and gas in it, K, ≥ sideArm */
  readonly body: number;
}

/** A flame salted with the element: N = density · exp(−((y − centre)/halfWidth)²), one temperature. */
export interface FlameContents {
  readonly kind: "flame";
  /** atoms in the middle of the flame, m⁻³ */
  readonly density: number;
  /** middle of the flame above the axis, m */
  readonly centre: number;
  /** 1/e half-width in height, m */
  readonly halfWidth: number;
  /** K */
  readonly temperature: number;
}

/**
 * A hollow prism filled with a solution, its edge level and across the light. Here only its shape: what hangs on the
 * wavelength is told by the medium and `throughWedge`.
 */
export interface PrismContents {
  readonly kind: "prism";
  /** angle between the inner faces, rad */
  readonly apex: number;
  /** as in `Wedge`; left out, that of least deviation for the solvent in the middle of the picture */
  readonly incidence?: number;
  /** thickness of each wall, m */
  readonly wallThickness: number;
  /** from the axis to the edge of the liquid, m, > 0 */
  readonly edgeDistance: number;
  /** true: the edge is above and the thick end below */
  readonly edgeAbove: boolean;
  /** dye molecules, m⁻³ */
  readonly density: number;
  /** K */
  readonly temperature: number;
}

/** What a vessel other than a tube holds; path of the light = its heatedLength. */
export type Contents = CellContents | FlameContents | PrismContents;

export interface VesselInput {
  /** symbol of the metal; of a prism, which holds none, the word "dye" */
  readonly element: string;
  /** inner diameter, m */
  readonly bore: number;
  /** length that is heated, centred on the tube, m */
  readonly heatedLength: number;
  /** window to window, m, ≥ heatedLength */
  readonly length: number;
  readonly wall: MeasuredWall;
  /** the wall face by face, where a heater's balance or thermocouples give it; `wall` then holds its readings */
  readonly map?: ShellMap;
  /** K; left out, as warm as the wall beside the windows */
  readonly windowTemperature?: number;
  /** left out, the whole wall is wet with metal */
  readonly wet?: WetWall;
  /** stated contents instead of a wall that is wet with metal: a cell, a flame, a prism */
  readonly contents?: Contents;
  /** buffer gas symbol */
  readonly gas: string;
  /** pressure, Pa: while hot, or the cold filling when gasFilledAt is given */
  readonly gasPressure: number;
  /** temperature of the cold filling, K; then the amount of gas is kept */
  readonly gasFilledAt?: number;
  /** mass of metal loaded, kg */
  readonly charge?: number;
  /** vapour-pressure equation, see MediumOverrides.pressureEquation */
  readonly pressureEquation?: string;
}

/**
 * Columns along the beam at a set of heights; arrays of length `heights.length`.
 * Gradients are ∂/∂y: negative when the denser side is below.
 */
export interface BeamColumns {
  /** heights above the tube's axis, m */
  readonly heights: Float64Array;
  /** ∫N dz, m⁻² */
  readonly columnDensity: Float64Array;
  /** ∫∂N/∂y dz, m⁻³ */
  readonly columnGradient: Float64Array;
  /** ∫∂N_gas/∂y dz of the buffer gas, m⁻³ */
  readonly gasColumnGradient: Float64Array;
  /** ∫N² dz / ∫N dz: the density that sets self-broadening, m⁻³ */
  readonly effectiveDensity: Float64Array;
  /** gas temperature weighted with N along the beam, K */
  readonly effectiveTemperature: Float64Array;
  /** largest p/p_sat(T) met along the beam, 1 */
  readonly supersaturation: Float64Array;
}

/** How finely the bore is cut; counts are rounded up to ones that can be halved (see `gridSize`). */
export interface GridSize {
  /** rings, 4 to 512 */
  readonly radial: number;
  /** sectors all round, 8 to 1024 */
  readonly angular: number;
  /** slices from window to window, 4 to 2048 */
  readonly axial: number;
}

/** What a person asks about the tube, in numbers. */
export interface VesselNumbers {
  /** height of the beam above the axis at which the local numbers hold, m */
  readonly height: number;
  /** metal atoms at mid-length on the beam, m⁻³ */
  readonly density: number;
  /** gas temperature there, K */
  readonly gasTemperature: number;
  /** partial pressure of the buffer gas there, Pa */
  readonly gasPartialPressure: number;
  /** ∂N/∂y there, m⁻⁴ */
  readonly densityGradient: number;
  /** N/|∂N/∂y| there, m; Infinity where the density is level */
  readonly scaleHeight: number;
  /** pressure in the hot tube, Pa */
  readonly hotPressure: number;
  /** largest p/p_sat(T) along the beam, 1 */
  readonly supersaturation: number;
  /** p/p_sat(T) at mid-length on the beam, 1 */
  readonly midSupersaturation: number;
  /** density at mid-length on the beam if fog held the vapour at saturation, m⁻³: the other end of the bracket */
  readonly saturatedDensity: number;
  /** its gradient ∂/∂y, m⁻⁴ */
  readonly saturatedGradient: number;
  /** Rayleigh number of the bore, 1; negative where the layering is stable */
  readonly rayleigh: number;
  /** mean free path / bore, 1 */
  readonly knudsen: number;
  /** metal that leaves the hot wall, kg/s */
  readonly evaporation: number;
  /** metal that settles where the wall is below the melting point and so does not run back, kg/s */
  readonly solidLoss: number;
  /** how long the charge lasts at that loss, s; null where no charge is stated or nothing is lost */
  readonly chargeLife: number | null;
  readonly warnings: readonly VesselWarning[];
}
