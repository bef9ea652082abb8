/** Types of the vessel room: where the atoms are. SI units; z along the light, y up, x to the right. */

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

export interface VesselInput {
  readonly element: string;
  /** inner diameter, m */
  readonly bore: number;
  /** length that is heated, centred on the tube, m */
  readonly heatedLength: number;
  /** window to window, m, ≥ heatedLength */
  readonly length: number;
  readonly wall: MeasuredWall;
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
