/** What the pixel fit is given, and its named parameters as the curve and the blur take them. */
import type { CurveParameters, CurveSetting } from "./curve-model.ts";
import type { LightFrame } from "./frame-light.ts";
import type { ModelScratch } from "./pixel-model.ts";
import type { SlopeLoops } from "./slope-loops.ts";
import type { NoiseModel } from "./noise.ts";
import type { Blur } from "./slit-tables.ts";
import type { StoredLight } from "./stored-light.ts";

/** One thing the fit may change: where it starts, how big a step to try, what was known of it before. */
export interface FitTerm {
  readonly name: ParameterName;
  readonly unit: string;
  readonly start: number;
  /** step of the difference quotient */
  readonly step: number;
  readonly lower: number;
  readonly upper: number;
  /** `assumed`: believed beforehand, not measured on a frame of this bench */
  readonly prior?: { readonly value: number; readonly sigma: number; readonly assumed: boolean };
}

export type ParameterName =
  | "column gradient"
  | "column density"
  | "gradient change"
  | "gradient bow"
  | "offset change"
  | "line 1"
  | "line 2"
  | "strength ratio"
  | "offset"
  | "slope"
  | "bend"
  | "brightness"
  | "colour slope"
  | "colour bend"
  | "background"
  | "plumb blur"
  | "level blur"
  | "level width"
  | "roll"
  | "smile";

/** Memory of one picture size; one fit at a time. */
export interface FitScratch extends ModelScratch {
  readonly loops: SlopeLoops;
}

export interface PixelFitInput {
  readonly frame: LightFrame;
  readonly setting: CurveSetting;
  readonly terms: readonly FitTerm[];
  /** values of everything that is not a term */
  readonly fixed: Readonly<Record<ParameterName, number>>;
  /** plumb slit's image beside its blur, pixels */
  readonly slitWidth: number;
  readonly noise: NoiseModel;
  /** standard deviation of each pixel that takes part; left out: the noise at the start's own light */
  readonly sigma?: Float64Array;
  /** what the file made of the light */
  readonly stored: StoredLight;
  /** only every so manieth row of the frame is drawn; the pixels that take part lie on those */
  readonly every: number;
  /** pixels that take part, indices into the frame */
  readonly pixels: Int32Array;
  readonly loss: "squares" | "huber";
  /** of the frame's size; overwritten */
  readonly scratch: FitScratch;
  readonly maxIterations: number;
  /** damping of the first step; left out: that of a start far off */
  readonly damping?: number;
  /** fall of ½χ² that counts as nothing: 1e-3 is a fortieth of a standard deviation */
  readonly fallTolerance: number;
}

export function blurOf(values: Readonly<Record<ParameterName, number>>, slitWidth: number): Blur {
  return {
    slitHeight: values["level width"],
    sigmaHeight: values["level blur"],
    slitWidth,
    sigmaWidth: values["plumb blur"],
  };
}

export function curveParameters(
  values: Readonly<Record<ParameterName, number>>,
  anchors: number,
): CurveParameters {
  return {
    gradient: values["column gradient"],
    column: values["column density"],
    change: values["gradient change"],
    bow: values["gradient bow"],
    offsetChange: values["offset change"],
    anchors: anchors === 2 ? [values["line 1"], values["line 2"]] : [values["line 1"]],
    ratio: values["strength ratio"],
    offset: values.offset,
    slope: values.slope,
    bend: values.bend,
    brightness: values.brightness,
    colourSlope: values["colour slope"],
    colourBend: values["colour bend"],
  };
}
