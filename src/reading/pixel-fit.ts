/** The full-pixel fit: parameters that make the model picture most like the photograph, weighted with its own noise. */
import { leastSquares, type LeastSquaresSolution } from "../numerics/least-squares.ts";
import type { CurveSetting, CurveWorkspace } from "./curve-model.ts";
import { curveWorkspace, fillCurve } from "./curve-model.ts";
import type { Geometry } from "./geometry.ts";
import {
  blurOf,
  curveParameters,
  type FitScratch,
  type ParameterName,
  type PixelFitInput,
} from "./fit-parameters.ts";
import { slopeWriter } from "./fit-slopes.ts";
import { chiSquareOf, lightAt, noiseAt, residualsOf, valuesAt } from "./pixel-loops.ts";
import { bendStep, type Blurred } from "./wide-blur.ts";
import { type ModelScratch, modelScratch, renderPixels } from "./pixel-model.ts";
import { fastLoops } from "./slope-kernel.ts";
import { plainLoops } from "./slope-loops.ts";
import { storeLight } from "./stored-light.ts";

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

export function fitScratch(columns: number, rows: number): FitScratch {
  return { ...modelScratch(columns, rows), loops: fastLoops() ?? plainLoops };
}

/** Model of the whole picture for a set of values; the image lies in the scratch, without background. */
export function renderValues(
  setting: CurveSetting,
  values: Readonly<Record<ParameterName, number>>,
  slitWidth: number,
  work: CurveWorkspace,
  scratch: ModelScratch,
  size: { readonly columns: number; readonly rows: number },
  every = 1,
): void {
  fillCurve(setting, curveParameters(values, setting.anchors.length), work);
  const geometry: Geometry = { ...size, roll: values.roll, smile: values.smile };
  renderPixels(work.curve, geometry, blurOf(values, slitWidth), scratch, every);
}

export function fitPixels(input: PixelFitInput): PixelFit {
  const { frame, setting, terms, pixels, noise } = input;
  const work = curveWorkspace(setting);
  const { scratch } = input;
  const values: Record<ParameterName, number> = { ...input.fixed };
  const priors = terms.map((term, k) => ({ term, k })).filter(({ term }) => term.prior !== undefined);
  const count = pixels.length;
  const m = count + priors.length;
  const light = valuesAt(frame.light, pixels);
  const model = new Float64Array(count);
  const drawn = new Float64Array(terms.length).fill(Number.NaN);
  const evaluate = (p: Float64Array): void => {
    if (p.every((v, k) => v === drawn[k])) return;
    drawn.set(p);
    terms.forEach((term, k) => {
      values[term.name] = p[k];
    });
    renderValues(setting, values, input.slitWidth, work, scratch, frame, input.every);
    const { background } = values;
    lightAt(scratch.image, pixels, background, model);
    storeLight(model, background, noise.perLight, input.stored);
  };
  const start = terms.map((term) => term.start);
  evaluate(Float64Array.from(start));
  const sigma = input.sigma ?? new Float64Array(count);
  if (input.sigma === undefined) noiseAt(model, values.background, noise, sigma);
  const slopes = slopeWriter(input, sigma, values);
  const n = terms.length;
  const at = (name: ParameterName): number => terms.findIndex((term) => term.name === name);
  const blurred: Blurred = {
    brightness: at("brightness"),
    width: at("level width"),
    blur: at("level blur"),
  };
  const solution = leastSquares({
    start,
    residualCount: m,
    residuals: (p, out) => {
      evaluate(p);
      residualsOf(model, light, sigma, out);
      priors.forEach(({ term, k }, at) => {
        out[count + at] = (p[k] - (term.prior?.value ?? 0)) / (term.prior?.sigma ?? 1);
      });
    },
    normal: (p, r, rootWeights, gram, moment) => {
      gram.fill(0);
      moment.fill(0);
      slopes.addProducts(p, r, rootWeights, gram, moment);
      priors.forEach(({ term, k }, at) => {
        const root = rootWeights === null ? 1 : rootWeights[count + at];
        const slope = root / (term.prior?.sigma ?? 1);
        gram[k * n + k] += slope * slope;
        moment[k] += slope * root * r[count + at];
      });
    },
    jacobian: (_p, _r, out) => {
      slopes.write(out);
      priors.forEach(({ term, k }, at) => {
        out[k * m + count + at] = 1 / (term.prior?.sigma ?? 1);
      });
    },
    bend: (from, to) => {
      if (Math.min(blurred.brightness, blurred.width, blurred.blur) >= 0) bendStep(from, to, blurred);
    },
    lower: terms.map((term) => term.lower),
    upper: terms.map((term) => term.upper),
    typical: terms.map((term) => Math.abs(term.step) * 1000),
    loss: input.loss,
    lossScale: 3,
    maxIterations: input.maxIterations,
    ...(input.damping === undefined ? {} : { damping: input.damping }),
    fallTolerance: input.fallTolerance,
    costTolerance: 1e-9,
    stepTolerance: 1e-9,
  });
  evaluate(solution.parameters);
  terms.forEach((term, k) => {
    values[term.name] = solution.parameters[k];
  });
  const chi = chiSquareOf(model, light, sigma);
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
