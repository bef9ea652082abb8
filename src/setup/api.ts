import type { LineStructure, MediumOverrides } from "../medium/api.ts";
import type { PathInput } from "../path/api.ts";
import type { VesselInput } from "../vessel/api.ts";

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

export interface CameraInput {
  /** pixel pitch, m */
  readonly pixel: number;
  readonly columns: number;
  readonly rows: number;
  /** exposure time, s */
  readonly exposure: number;
  /** electrons per pixel and second in the middle of the cold line, 1/s */
  readonly rate: number;
  /** full well, electrons */
  readonly fullWell: number;
  /** read noise, electrons r.m.s. */
  readonly readNoise: number;
  /** offset of the dark picture, share of full scale */
  readonly blackLevel: number;
  /** 8 or 16 */
  readonly bitDepth: 8 | 16;
  /** 1 = linear; sample = light^(1/gamma) */
  readonly gamma: number;
  /** seed of the noise, integer ≥ 0 */
  readonly seed: number;
}
