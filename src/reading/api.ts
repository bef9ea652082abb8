/**
 * Types of the reading room: from decoded frames back to numbers. SI units; wavelengths are vacuum wavelengths.
 * Pixel coordinates: the first pixel spans 0…1, rows count from the top.
 */
import type { Frame } from "../picture/api.ts";
import type { Setup } from "../setup/api.ts";
import type { HandMarks } from "./marks.ts";

/** A value with its standard uncertainties (GUM: one standard deviation), all in the unit of the field. */
export interface Measured {
  readonly value: number;
  /** from the noise of the frames alone: how far another exposure of the same bench would scatter */
  readonly standardUncertainty: number;
  /** the same with every systematic line of the budget added in squares: how far the truth may be */
  readonly combinedUncertainty: number;
}

export interface ReadingInput {
  /** the picture with the tube hot */
  readonly hot: Frame;
  /** how many frames `hot` is the mean of: its noise is so much less than a single frame's; default 1 */
  readonly meanOf?: number;
  /** the same with the tube cold and nothing moved */
  readonly cold?: Frame;
  /** how many frames `cold` is the mean of; default 1 */
  readonly coldMeanOf?: number;
  /** line lamp through the plumb slit, level slit opened wide */
  readonly lamp?: Frame;
  /** light shut off; taken from all other frames */
  readonly dark?: Frame;
  /** vacuum wavelengths of the lamp's lines, m */
  readonly lampLines?: readonly number[];
  readonly setup: Setup;
  /** what a person added by hand, in columns and rows of the hot picture as stored */
  readonly marks?: HandMarks;
  /** height scale measured by moving the level slit; left out, the setup's focal length and pixel give it */
  readonly heightScale?: HeightScale;
  readonly options?: ReadingOptions;
  /** how the stored frames were turned before (`turnedFrames`): said in the warnings */
  readonly turned?: "left" | "right";
}

/** What two cold frames with the level slit moved in between say about the height of the picture. */
export interface HeightScale {
  /** pixels upward per rad of upward deflection at the tube; negative where the picture is inverted */
  readonly pixelsPerRadian: number;
  /** from the frames and the stated shift, same unit */
  readonly standardUncertainty: number;
  /** the setup's own figure */
  readonly bySetup: number;
}

export interface ReadingOptions {
  /**
   * Where in the beam the density that sets self-broadening is taken: one of "local" (each height its own, default)
   * or "middle" (one for the whole beam).
   */
  readonly selfBroadening?: "local" | "middle";
  /** heights of the beam that are averaged, 3…21, default 7 */
  readonly beamHeights?: number;
  /** default 30 */
  readonly maxIterations?: number;
  /** true: good to a percent or two and several times quicker; for comparing, not for measuring */
  readonly rough?: boolean;
}

export interface LineColumn {
  /** id of the line in data/lines.json */
  readonly line: string;
  /** published vacuum wavelength, m */
  readonly wavelength: number;
  /** column on the middle row after roll and line curvature are taken out, pixels from the left edge */
  readonly column: number;
  readonly standardUncertainty: number;
}

export interface LampFeature {
  /** column on the middle row, pixels from the left edge */
  readonly column: number;
  readonly standardUncertainty: number;
  /** height above background, share of full scale */
  readonly height: number;
  /** published vacuum wavelengths under this feature, m; empty: not identified */
  readonly wavelengths: readonly number[];
  /** measured minus published, m; NaN never: 0 where not identified */
  readonly residual: number;
  /** true where the frame's edge cuts it */
  readonly atEdge: boolean;
}

export interface WavelengthScale {
  /** one of "lamp" | "marks" (two set by hand) | "vapour-pair" | "setup" */
  readonly source: "lamp" | "marks" | "vapour-pair" | "setup";
  /** λ = Σ coefficients[k]·((column − centreColumn)/1000)^k, m */
  readonly coefficients: readonly number[];
  readonly centreColumn: number;
  readonly features: readonly LampFeature[];
  /** r.m.s. of the residuals of identified lines, m */
  readonly rmsResidual: number;
  /** roll of the spectral lines, rad, positive as the picture's tilt */
  readonly roll: number;
  /** line curvature: column shift = smile·(row − middle)², 1/pixel */
  readonly smile: number;
}

export interface TracePoint {
  readonly column: number;
  /** centre of the light, rows from the top */
  readonly row: number;
  readonly standardUncertainty: number;
  /** light left, share of the cold line's */
  readonly transmission: number;
}

/** One line of the uncertainty budget: a cause and what it does to each answer, as standard uncertainty in its unit. */
export interface BudgetLine {
  readonly cause: string;
  readonly kind: "statistical" | "systematic";
  readonly columnGradient: number;
  readonly columnDensity: number;
  readonly lineSeparation: number;
  readonly fRatio: number;
  readonly tilt: number;
}

/** The index at one traced column, from the height of its light. */
export interface PhasePoint {
  /** on the middle row, pixels from the left edge */
  readonly column: number;
  /** vacuum, m */
  readonly wavelength: number;
  /** n − 1 of the vapour where it is as dense as in the middle of the beam */
  readonly refractivity: number;
  /** of the refractivity: from the point's own height */
  readonly standardUncertainty: number;
  /** the same with density and gradient, which move all points together */
  readonly combinedUncertainty: number;
  /** phase velocity, in c */
  readonly velocity: number;
  /** true where it exceeds c by more than two standard uncertainties; neither energy nor a signal does */
  readonly aboveLight: boolean;
}

/** What follows from the answers with the assumptions that the reading lists. */
export interface DerivedNumbers {
  /** mean density along the vapour's length, m⁻³ */
  readonly density: Measured;
  /** at which saturated vapour would be so dense, K; null outside 150…3000 K and of a flame */
  readonly effectiveTemperature: Measured | null;
  /** apex angle of a wedge of that density, even throughout, that bends the light as much, rad */
  readonly prismAngle: Measured;
  /** the read strength ratio against the published one; null with one line */
  readonly publishedRatio: {
    readonly published: number;
    /** of the published ratio, from the published errors of both strengths */
    readonly standardUncertainty: number;
    /** read less published, in standard uncertainties of the difference */
    readonly deviation: number;
  } | null;
  /** test of the oscillator curve by the pattern of its residual heights, pixels */
  readonly oscillatorCurve: {
    readonly chiSquare: number;
    readonly degreesOfFreedom: number;
    /** how often a right curve would look at least as wrong */
    readonly pValue: number;
    readonly residuals: readonly {
      readonly column: number;
      readonly height: number;
      readonly standardUncertainty: number;
    }[];
  };
  /** none where no gradient is seen: heights say nothing of the index then */
  readonly phase: readonly PhasePoint[];
}

export interface FitParameter {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface Reading {
  /** as which the stored picture was read; all columns and angles are those of the stored picture either way */
  readonly orientation: "as stored" | "mirrored";
  /** ∫∂N/∂y dz in the middle of the beam, m⁻³, negative when the dense vapour is below */
  readonly columnGradient: Measured;
  /** ∫N dz in the middle of the beam, m⁻² */
  readonly columnDensity: Measured;
  /** distance of the two strongest lines in view, vacuum, m; null with one line or without a scale of its own */
  readonly lineSeparation: Measured | null;
  /** f(shorter wavelength)/f(longer); null with one line */
  readonly fRatio: Measured | null;
  /** slope of the undeflected line as an angle, rad, positive when the right end is raised */
  readonly tilt: Measured;
  /** change of the gradient from the middle of the beam to its upper edge, share of the gradient */
  readonly gradientChange: Measured;
  /** image of the level slit: full height and standard deviation of its blur, pixels */
  readonly lineShape: { readonly height: number; readonly blur: number };
  readonly lineColumns: readonly LineColumn[];
  /** where the hot curve crosses the cold line between the pair, measured and expected, m; null without pair */
  readonly zeroBetweenLines: {
    readonly measured: Measured;
    readonly expected: number;
    /** true where the two agree within three combined uncertainties (and half a thousandth of the pair's distance) */
    readonly pass: boolean;
  } | null;
  readonly derived: DerivedNumbers;
  readonly wavelengthScale: WavelengthScale;
  /** the hand's marks that this reading took in */
  readonly marks?: HandMarks;
  readonly heightScale?: HeightScale;
  readonly verdict: { readonly code: VerdictCode; readonly text: string };
  readonly warnings: readonly string[];
  readonly assumptions: readonly string[];
  readonly budget: readonly BudgetLine[];
  readonly parameters: readonly FitParameter[];
  /** row-major n × n in the order of `parameters` */
  readonly covariance: readonly number[];
  /** χ² per degree of freedom of the pixel fit */
  readonly reducedChiSquare: number;
  readonly degreesOfFreedom: number;
  readonly iterations: number;
  readonly converged: boolean;
  readonly trace: readonly TracePoint[];
  /** fitted curve for the overlay: column, row (from the top), share of light left; one entry per beam-middle point */
  readonly curve: {
    readonly column: Float64Array;
    readonly row: Float64Array;
    readonly transmission: Float64Array;
  };
  /** 1 where a pixel took part in the fit, 2 where it was struck; row-major columns × rows */
  readonly mask: Uint8Array;
  /** photograph minus model in standard deviations of its noise, 0 where a pixel took no part; row-major columns × rows */
  readonly residual: Float32Array;
}

/** One fitted parameter under the parametric bootstrap, in its unit. */
export interface BootstrapLine {
  readonly name: string;
  readonly unit: string;
  /** standard uncertainty that the reading claims */
  readonly claimed: number;
  /** standard deviation of the repeats */
  readonly scatter: number;
  /** mean of the repeats less the reading */
  readonly shift: number;
}

export type VerdictCode = "good" | "fair" | "poor";
