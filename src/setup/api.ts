import type { LineStructure, MediumOverrides } from "../medium/api.ts";
import type { DyeSolution } from "../medium/solution.ts";
import type { PathInput } from "../path/api.ts";
import type { CameraInput } from "../picture/api.ts";
import type { VesselInput } from "../vessel/api.ts";
import type { ShellInput, ShellState } from "../vessel/shell-api.ts";
import type { Thermocouple } from "../vessel/thermocouples.ts";

export type { CameraInput } from "../picture/api.ts";

/** A setup, read and checked: what stands on the bench, in SI units. The file form is text with units. */
export interface Setup {
  readonly version: 1;
  readonly title: string;
  readonly notes: string;
  readonly medium: MediumInput;
  readonly vessel: VesselInput;
  readonly path: PathInput;
  readonly camera: CameraInput;
  readonly construction: Construction;
  /** what heats and cools the tube, where the wall follows from it; `vessel.map` is then its steady wall */
  readonly shell?: ShellInput;
  /** steady state of `shell` */
  readonly steady?: ShellState;
  /** what the wall is given by, where it is; `vessel.map` is then the wall between them */
  readonly thermocouples?: readonly Thermocouple[];
}

/** How the tube is built, as far as its strength goes; the light does not ask. Fields `vessel.…` of the file. */
export interface Construction {
  /** one of TUBE_MATERIALS; undefined where not stated */
  readonly tubeMaterial?: string;
  /** one of COOLINGS */
  readonly cooling: string;
  /** one of WINDOW_MATERIALS */
  readonly windowMaterial: string;
  /** m; undefined where not stated */
  readonly windowThickness?: number;
  /** diameter that nothing supports, m */
  readonly windowDiameter: number;
}

/** What bends and absorbs the light: the vapour of a metal, or a dye in its solvent. */
export type MediumInput = MetalInput | SolutionInput;

export interface MetalInput {
  /** element symbol, e.g. "Cs" */
  readonly element: string;
  readonly structure: LineStructure;
  readonly overrides: MediumOverrides;
  readonly solution?: undefined;
}

export interface SolutionInput {
  readonly solution: DyeSolution;
  /** glass of the prism's walls: six-digit code or "fused-silica" */
  readonly wallGlass: string;
}
