import type { LineStructure, MediumOverrides } from "../medium/api.ts";
import type { PathInput } from "../path/api.ts";
import type { CameraInput } from "../picture/api.ts";
import type { VesselInput } from "../vessel/api.ts";

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
}

export interface MediumInput {
  /** element symbol, e.g. "Cs" */
  readonly element: string;
  readonly structure: LineStructure;
  readonly overrides: MediumOverrides;
}
