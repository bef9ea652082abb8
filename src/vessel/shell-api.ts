/** Types of the wall that follows from a balance of heat. SI units. */
import type { VesselWarning } from "./warning-api.ts";

/** How a part of the outside gives off heat; radiation to the room comes on top for all but liquid. */
export type Cooling =
  /** air at rest in the room: horizontal cylinder */
  | { readonly kind: "still-air" }
  /** air at rest on fins: outer area times `areaFactor` ≥ 1, fins as warm as the wall */
  | { readonly kind: "fins"; readonly areaFactor: number }
  /** air blown across the tube, m/s */
  | { readonly kind: "blown-air"; readonly speed: number }
  /** liquid in a jacket or a pipe clamped on */
  | {
      readonly kind: "liquid";
      /** "water" or "oil" */
      readonly coolant: string;
      /** kg/s */
      readonly flow: number;
      /** K */
      readonly inlet: number;
      /** from wall to liquid, W/(m² K) of outer wall */
      readonly conductance: number;
    }
  /** a stated coefficient to the room, W/(m² K), all losses included */
  | { readonly kind: "fixed"; readonly coefficient: number };

/** A tube's shell and what heats and cools it. */
export interface ShellInput {
  /** inner diameter, m */
  readonly bore: number;
  /** m */
  readonly heatedLength: number;
  /** m */
  readonly length: number;
  /** id in data/materials.json */
  readonly material: string;
  /** wall thickness, m */
  readonly thickness: number;
  /** full angle of the heated strip along the bottom, rad */
  readonly hotStrip: number;
  /** "electric": all of the power enters the wall; "gas": the share `efficiency` does */
  readonly heater: { readonly kind: "electric" } | { readonly kind: "gas"; readonly efficiency: number };
  /** W, electric or of the flame; for warm-up the power of the first step */
  readonly power: number;
  /** outside of the heated strip: insulated, or bare to still air */
  readonly insulation?: { readonly material: string; readonly thickness: number };
  /** rest of the circumference over the heated length */
  readonly topCooling: Cooling;
  /** beyond the heated length */
  readonly endCooling: Cooling;
  /** K */
  readonly room: number;
  /** replaces the material's, 0…1 */
  readonly emissivity?: number;
}

/** Wall temperatures face by face; sector 0 points straight down, sectors turn toward +x. */
export interface ShellMap {
  readonly angular: number;
  readonly axial: number;
  /** faces of the slices, m from mid-length, length axial + 1 */
  readonly zFaces: Float64Array;
  /** K, [k · angular + j] */
  readonly temperature: Float64Array;
}

/** Temperatures of a shell that a heater and its cooling give. */
export interface ShellState extends ShellMap {
  readonly balance: HeatBalance;
  /** what is amiss with these temperatures; left out where nothing is */
  readonly warnings?: readonly VesselWarning[];
}

/** Where the heat goes, W. */
export interface HeatBalance {
  readonly heater: number;
  /** lost by strip, top and ends, radiation included */
  readonly strip: number;
  readonly top: number;
  readonly ends: number;
  /** carried off by liquid, in top and ends */
  readonly liquid: number;
  /** K; null where no liquid cools that part */
  readonly topOutlet: number | null;
  readonly endOutlet: number | null;
  /** heater − losses: what warms the shell */
  readonly stored: number;
}
