/** What the stages of the forward chain hand to one another. */
import type { OpticalResponse, PerAtom, Solution, VapourState } from "../medium/index.ts";
import type { ImageScale, SpectralMap } from "../path/index.ts";
import type { CurveBundle, Softness } from "../picture/index.ts";
import type {
  BeamColumns,
  GridSize,
  ShellState,
  VapourField,
  VesselNumbers,
  WedgePassage,
} from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import type { LineGap } from "./gap.ts";

/** Beam heights over which the picture is averaged: equal slices of the beam. */
export const BEAM_SLICES = 9;

interface StageBase {
  readonly field: VapourField;
  /** the shell that the wall was taken from, where the setup gives a heater */
  readonly shell?: ShellState;
  readonly columns: BeamColumns;
  readonly weights: Float64Array;
  readonly numbers: VesselNumbers;
  /** columns of the middle slice */
  readonly middle: {
    readonly columnDensity: number;
    readonly columnGradient: number;
    readonly gasColumnGradient: number;
  };
}

/** A vessel with a metal's vapour. */
export interface MetalStage extends StageBase {
  /** the vapour as it acts on the middle of the beam */
  readonly state: VapourState;
  readonly solution?: undefined;
}

/** A prism with dye. */
export interface SolutionStage extends StageBase {
  readonly state?: undefined;
  readonly solution: SolutionOptics;
}

/** What is in the vessel decides which. */
export type VapourStage = MetalStage | SolutionStage;

/** How a prism with dye, and one with its solvent alone, turn and dim the beam. */
export interface SolutionOptics {
  readonly medium: Solution;
  /** per molecule of dye: what the curve's grid needs to know of its steepness */
  perMolecule(wavelengths: Float64Array): PerAtom;
  /** beam through the prism, height by height */
  dyed(wavelengths: Float64Array): CurveBundle;
  /** the same with the solvent alone: one curve for every height */
  clear(wavelengths: Float64Array): CurveBundle;
  /** index and velocities along the curve, for those who read numbers off it */
  response(wavelengths: Float64Array): Omit<OpticalResponse, "wavelength">;
  /** on the first face, rad */
  readonly incidence: number;
  /** how the solvent's middle wavelength passes */
  readonly aimed: WedgePassage;
  /** share of that light which the two outer faces do not reflect, unpolarised, 1; in picture and budget with losses counted at each colour */
  readonly faces: number;
  /** deviation to which the bench behind the prism is turned, rad, positive upward */
  readonly aim: number;
}

export interface CurveStage {
  readonly bundle: CurveBundle;
  readonly map: SpectralMap;
  readonly scale: ImageScale;
  readonly lines: readonly LineGap[];
  /** vacuum wavelength between the lines where n − 1 of the vapour vanishes, m; null where there is none in the picture */
  readonly zeroBetweenLines: number | null;
  /** the bundle as it left the vapour, where the bench then turned, cut or dimmed it */
  readonly vapourBundle?: CurveBundle;
  /** the same light through the vessel without vapour or dye, where that does not leave it straight and whole */
  readonly coldBundle?: CurveBundle;
  /** true for the curve of the cold tube, in which no fog stands */
  readonly cold?: true;
  /** the setup whose bench did so */
  readonly setup?: Setup;
  /** blur of colours out of focus, one value per column of the setup's sensor; left out where none is seen */
  readonly soft?: Softness;
}

export interface ForecastOptions {
  readonly grid?: GridSize;
  /** the wall at some minute of a warm-up instead of the steady one; only for a setup with a heater */
  readonly shell?: ShellState;
  /** field of an earlier forecast, from which the solver starts */
  readonly previous?: VapourField;
  /** slices of the beam's height, odd, default BEAM_SLICES; fewer while a control is dragged */
  readonly slices?: number;
  /** relative residual at which the vapour's solver stops */
  readonly tolerance?: number;
  /** true for the picture of the cold tube: curve, light and frame without vapour and gas gradient; `vapour` stays the hot tube's */
  readonly cold?: boolean;
}
