/** The full-pixel fit: parameters that make the model picture most like the photograph, weighted with its own noise. */
import { leastSquares, type LeastSquaresSolution } from "../numerics/least-squares.ts";
import type { CurveParameters, CurveSetting, CurveWorkspace } from "./curve-model.ts";
import { curveWorkspace, fillCurve } from "./curve-model.ts";
import type { LightFrame } from "./frame-light.ts";
import type { Geometry } from "./geometry.ts";
import { clippedMean, type NoiseModel } from "./noise.ts";
import { type Blur, type ModelScratch, modelScratch, renderPixels } from "./pixel-model.ts";

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
  | "background"
  | "plumb blur"
  | "level blur"
  | "level width"
  | "roll"
  | "smile";

export interface PixelFitInput {
  readonly frame: LightFrame;
  readonly setting: CurveSetting;
  readonly terms: readonly FitTerm[];
  /** values of everything that is not a term */
  readonly fixed: Readonly<Record<ParameterName, number>>;
  /** plumb slit's image beside its blur, pixels */
  readonly slitWidth: number;
  readonly noise: NoiseModel;
  /** standard deviation of dark pixels before the file cut them off at zero; 0 where it did not */
  readonly cutNoise: number;
  /** pixels that take part, indices into the frame */
  readonly pixels: Int32Array;
  readonly loss: "squares" | "huber";
  readonly maxIterations: number;
  /** fall of ½χ² that counts as nothing: 1e-3 is a fortieth of a standard deviation */
  readonly fallTolerance: number;
}

export interface PixelFit {
  readonly values: Readonly<Record<ParameterName, number>>;
  readonly solution: LeastSquaresSolution;
  /** χ² of the pixels alone per degree of freedom */
  readonly reducedChiSquare: number;
  readonly degreesOfFreedom: number;
  /** model light at `pixels`, background included */
  readonly model: Float64Array;
  readonly sigma: Float64Array;
}

/** Model of the whole picture for a set of values; the image lies in the scratch, without background. */
export function renderValues(
  setting: CurveSetting,
  values: Readonly<Record<ParameterName, number>>,
  slitWidth: number,
  work: CurveWorkspace,
  scratch: ModelScratch,
  size: { readonly columns: number; readonly rows: number },
): void {
  fillCurve(setting, curveParameters(values, setting.anchors.length), work);
  const geometry: Geometry = { ...size, roll: values.roll, smile: values.smile };
  const blur: Blur = {
    slitHeight: values["level width"],
    sigmaHeight: values["level blur"],
    slitWidth,
    sigmaWidth: values["plumb blur"],
  };
  renderPixels(work.curve, geometry, blur, scratch);
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
  };
}

export function fitPixels(input: PixelFitInput): PixelFit {
  const { frame, setting, terms, pixels, noise } = input;
  const work = curveWorkspace(setting);
  const scratch = modelScratch(frame.columns, frame.rows);
  const values: Record<ParameterName, number> = { ...input.fixed };
  const priors = terms.map((term, k) => ({ term, k })).filter(({ term }) => term.prior !== undefined);
  const count = pixels.length;
  const m = count + priors.length;
  const light = Float64Array.from(pixels, (i) => frame.light[i]);
  const model = new Float64Array(count);
  const evaluate = (p: Float64Array, out: Float64Array): void => {
    terms.forEach((term, k) => {
      values[term.name] = p[k];
    });
    renderValues(setting, values, input.slitWidth, work, scratch, frame);
    const { image } = scratch;
    const { background } = values;
    for (let i = 0; i < count; i++) out[i] = image[pixels[i]] + background;
    if (input.cutNoise > 0) {
      const variance = input.cutNoise ** 2;
      for (let i = 0; i < count; i++)
        out[i] = clippedMean(out[i], Math.sqrt(variance + noise.perLight * Math.max(out[i] - background, 0)));
    }
  };
  const start = terms.map((term) => term.start);
  evaluate(Float64Array.from(start), model);
  const sigma = new Float64Array(count);
  for (let i = 0; i < count; i++)
    sigma[i] = Math.sqrt(noise.floor + noise.perLight * Math.max(model[i] - values.background, 0));
  const jacobianAt = (p: Float64Array, out: Float64Array): void => {
    const base = new Float64Array(count);
    const moved = new Float64Array(count);
    evaluate(p, base);
    const q = p.slice();
    out.fill(0);
    terms.forEach((term, k) => {
      const column = k * m;
      if (term.name === "background" && input.cutNoise === 0)
        for (let i = 0; i < count; i++) out[column + i] = 1 / sigma[i];
      else if (term.name === "brightness" && input.cutNoise === 0) {
        for (let i = 0; i < count; i++)
          out[column + i] = (base[i] - currentValue(terms, p, input.fixed, "background")) / p[k] / sigma[i];
      } else {
        const step = q[k] + term.step <= term.upper ? term.step : -term.step;
        q[k] = p[k] + step;
        evaluate(q, moved);
        q[k] = p[k];
        for (let i = 0; i < count; i++) out[column + i] = (moved[i] - base[i]) / step / sigma[i];
      }
    });
    priors.forEach(({ term, k }, at) => {
      out[k * m + count + at] = 1 / (term.prior?.sigma ?? 1);
    });
  };
  const solution = leastSquares({
    start,
    residualCount: m,
    residuals: (p, out) => {
      evaluate(p, model);
      for (let i = 0; i < count; i++) out[i] = (model[i] - light[i]) / sigma[i];
      priors.forEach(({ term, k }, at) => {
        out[count + at] = (p[k] - (term.prior?.value ?? 0)) / (term.prior?.sigma ?? 1);
      });
    },
    jacobian: (p, _r, out) => jacobianAt(p, out),
    lower: terms.map((term) => term.lower),
    upper: terms.map((term) => term.upper),
    typical: terms.map((term) => Math.abs(term.step) * 1000),
    loss: input.loss,
    lossScale: 3,
    maxIterations: input.maxIterations,
    fallTolerance: input.fallTolerance,
    costTolerance: 1e-9,
    stepTolerance: 1e-9,
  });
  evaluate(solution.parameters, model);
  terms.forEach((term, k) => {
    values[term.name] = solution.parameters[k];
  });
  let chi = 0;
  for (let i = 0; i < count; i++) chi += ((model[i] - light[i]) / sigma[i]) ** 2;
  const degreesOfFreedom = Math.max(1, count - terms.length);
  return {
    values,
    solution,
    reducedChiSquare: Math.min(chi / degreesOfFreedom, Number.MAX_VALUE),
    degreesOfFreedom,
    model,
    sigma,
  };
}

function currentValue(
  terms: readonly FitTerm[],
  p: Float64Array,
  fixed: Readonly<Record<ParameterName, number>>,
  name: ParameterName,
): number {
  const k = terms.findIndex((term) => term.name === name);
  return k >= 0 ? p[k] : fixed[name];
}

/**
 * Pixels worth fitting: everything within a few pixels of where the model has light, without the frame's outermost
 * columns (a blurred edge is darker than the model knows), struck and saturated pixels.
 */
export function pixelBand(
  image: Float64Array,
  frame: LightFrame,
  threshold: number,
  struck: Uint8Array | null,
  margin: { readonly columns: number; readonly rows: number; readonly edge: number },
): Int32Array {
  const { columns, rows } = frame;
  // Dilate separably: first along rows, then down columns.
  const wide = new Uint8Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const base = r * columns;
    let until = -1;
    for (let c = 0; c < columns; c++) {
      if (image[base + c] > threshold) until = c + margin.columns;
      if (c <= until) wide[base + c] = 1;
    }
    until = columns;
    for (let c = columns - 1; c >= 0; c--) {
      if (image[base + c] > threshold) until = c - margin.columns;
      if (c >= until) wide[base + c] = 1;
    }
  }
  const band = new Uint8Array(columns * rows);
  const until = new Int32Array(columns).fill(-1);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r + margin.rows;
      if (r <= until[c]) band[r * columns + c] = 1;
    }
  }
  until.fill(rows);
  for (let r = rows - 1; r >= 0; r--) {
    for (let c = 0; c < columns; c++) {
      if (wide[r * columns + c] === 1) until[c] = r - margin.rows;
      if (r >= until[c]) band[r * columns + c] = 1;
    }
  }
  const chosen: number[] = [];
  for (let r = margin.edge; r < rows - margin.edge; r++) {
    for (let c = margin.edge; c < columns - margin.edge; c++) {
      const i = r * columns + c;
      if (band[i] === 1 && frame.saturated[i] === 0 && struck?.[i] !== 1) chosen.push(i);
    }
  }
  return Int32Array.from(chosen);
}
