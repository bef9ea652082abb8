/**
 * The cold frame: where the undeflected line stands, how it is shaped and how its light is spread over the colours.
 *
 *   light(U, v) = S(U) · P(v − y0 − τ·U − q·U²) + background,   P: level slit's image, a box blurred by a Gaussian
 */
import { leastSquares } from "../numerics/least-squares.ts";
import type { Background } from "./background.ts";
import type { Band } from "./band-search.ts";
import type { LightFrame } from "./frame-light.ts";
import { type BandPixels, bandPixels } from "./band-pixels.ts";
import type { Geometry } from "./geometry.ts";
import { type NoiseModel, noiseFromResiduals } from "./noise.ts";
import { addProducts, drawLine, lightAlong, lineAt, LINE_PARAMETERS, tableOf } from "./cold-profile.ts";
import { noiseAt, residualsOf } from "./pixel-loops.ts";
import { PHASES, tableValue } from "./slit-tables.ts";
import { smoothSpectrum, type SpectrumErrors } from "./spectrum.ts";
import { bendStep } from "./wide-blur.ts";
import { AS_IT_IS, coarseOnly, storedLight, type StoredLight, storeLight } from "./stored-light.ts";

export interface ColdLine {
  /** height at U = 0, pixels above the middle of the frame */
  readonly offset: number;
  readonly offsetUncertainty: number;
  /** τ: rise per pixel along the spectrum, relative to the roll of the geometry */
  readonly slope: number;
  readonly slopeUncertainty: number;
  /** q, 1/pixel */
  readonly bend: number;
  readonly bendUncertainty: number;
  /** full width of the slit's image, pixels */
  readonly width: number;
  readonly widthUncertainty: number;
  /** standard deviation of its blur, pixels */
  readonly sigma: number;
  readonly sigmaUncertainty: number;
  /** S at column centres of the middle row, index = floor(U + columns/2), length columns */
  readonly spectrum: Float64Array;
  readonly spectrumErrors: SpectrumErrors;
  readonly background: number;
  readonly noise: NoiseModel;
  readonly reducedChiSquare: number;
}

/**
 * Fits the line of a cold frame in a given geometry.
 * @param freeSlope false where the roll was itself taken from this line (no lamp): then τ stays 0 and roll is corrected outside
 */
export function fitColdLine(
  frame: LightFrame,
  background: Background,
  band: Band,
  geometry: Geometry,
  readNoise: number,
): ColdLine {
  const pixels = bandPixels(frame, band, geometry);
  const p = Float64Array.from([
    geometry.rows / 2 - band.row,
    -band.slope - Math.tan(geometry.roll),
    0,
    Math.max(band.height, 1.5),
    1.2,
    background.level,
    1,
  ]);
  let spectrum = new Float64Array(geometry.columns).fill(band.peak);
  let noise: NoiseModel = { floor: background.noise ** 2, perLight: 0, correlation: 1 };
  let solution: { parameters: Float64Array; cost: number; covariance: Float64Array } = {
    parameters: p,
    cost: 0,
    covariance: new Float64Array(LINE_PARAMETERS ** 2),
  };
  const sigma = new Float64Array(pixels.count);
  const model = new Float64Array(pixels.count);
  let stored: StoredLight = AS_IT_IS;
  for (let pass = 0; pass < 3; pass++) {
    spectrum = smoothSpectrum(
      columnAmplitudes(pixels, solution.parameters, geometry, sigma, pass === 0, background),
    ).light;
    solution = refine(
      pixels,
      solution.parameters,
      spectrum,
      geometry,
      sigma,
      pass,
      background,
      model,
      band.peak,
      { noise, stored },
    );
    noise = noiseFromResiduals(pixels, model, solution.parameters[5], background.noise);
    stored = coarseOnly(storedLight(frame, background, noise, readNoise));
    noiseAt(model, solution.parameters[5], noise, sigma);
    if (frame.saturatedCount > 0) disbelieve(model, sigma, frame.ceiling);
  }
  const smooth = smoothSpectrum(
    columnAmplitudes(pixels, solution.parameters, geometry, sigma, false, background),
  );
  const dof = Math.max(1, pixels.count - LINE_PARAMETERS);
  const inflate = Math.sqrt(noise.correlation);
  const q = solution.parameters;
  return {
    offset: q[0],
    offsetUncertainty: inflate * Math.sqrt(solution.covariance[0]),
    slope: q[1],
    slopeUncertainty: inflate * Math.sqrt(solution.covariance[8]),
    bend: q[2],
    bendUncertainty: inflate * Math.sqrt(solution.covariance[16]),
    width: q[3],
    widthUncertainty: inflate * Math.sqrt(solution.covariance[24]),
    sigma: q[4],
    sigmaUncertainty: inflate * Math.sqrt(solution.covariance[32]),
    spectrum: smooth.light,
    spectrumErrors: smooth.errors,
    background: q[5],
    noise,
    reducedChiSquare: (2 * solution.cost) / dof,
  };
}

/** Weighted amplitude of the profile in each column of the middle row, with its standard deviation. */
function columnAmplitudes(
  pixels: BandPixels,
  p: Float64Array,
  geometry: Geometry,
  sigma: Float64Array,
  even: boolean,
  background: Background,
): { value: Float64Array; sigma: Float64Array } {
  const n = geometry.columns;
  const top = new Float64Array(n);
  const bottom = new Float64Array(n);
  const table = tableOf(p);
  const top0 = table.shape.length - 1;
  for (let i = 0; i < pixels.count; i++) {
    const u = pixels.along[i];
    const slot = Math.floor(u + n / 2);
    if (slot < 0 || slot >= n) continue;
    const shape = tableValue(table.shape, (pixels.height[i] - lineAt(p, u) + table.reach) * PHASES, top0);
    const w = even ? 1 / background.noise ** 2 : 1 / sigma[i] ** 2;
    top[slot] += w * shape * (pixels.light[i] - p[5]);
    bottom[slot] += w * shape * shape;
  }
  const value = new Float64Array(n);
  const deviation = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    const known = bottom[c] > 0;
    value[c] = known ? top[c] / bottom[c] : 0;
    deviation[c] = known ? 1 / Math.sqrt(bottom[c]) : Number.POSITIVE_INFINITY;
  }
  return { value, sigma: deviation };
}

function refine(
  pixels: BandPixels,
  start: Float64Array,
  spectrum: Float64Array,
  geometry: Geometry,
  sigma: Float64Array,
  pass: number,
  background: Background,
  model: Float64Array,
  peak: number,
  { noise: { perLight }, stored }: { readonly noise: NoiseModel; readonly stored: StoredLight },
): { parameters: Float64Array; cost: number; covariance: Float64Array } {
  // The noise is not known yet: all pixels alike, coarse enough that a wrong first shape does not look like outliers.
  if (pass === 0) sigma.fill(Math.max(background.noise, 0.01 * peak));
  const light = lightAlong(spectrum, pixels);
  // The last parameter scales the spectrum: width and height of the line belong together.
  const evaluate = (p: Float64Array, out: Float64Array): void => {
    drawLine(pixels, light, p, out);
    storeLight(out, p[5], perLight, stored, pixels.count);
  };
  const found = leastSquares({
    start: Array.from(start),
    residualCount: pixels.count,
    residuals: (p, out) => {
      evaluate(p, out);
      residualsOf(out, pixels.light, sigma, out);
    },
    normal: (p, residuals, rootWeights, gram, moment) => {
      const weights = { sigma, rootWeights };
      addProducts({ pixels, light, perLight, stored }, p, residuals, weights, gram, moment);
    },
    wantsJacobian: false,
    bend: (from, to) => {
      bendStep(from, to, { brightness: 6, width: 3, blur: 4 });
    },
    lower: [-geometry.rows, -0.3, -1e-4, 0.3, 0.2, -1, 0.1],
    upper: [geometry.rows, 0.3, 1e-4, geometry.rows / 2, 40, 2, 10],
    typical: [1, 1e-3, 1e-6, 5, 1, 0.01, 1],
    loss: pass === 0 ? "squares" : "huber",
    lossScale: 3,
    maxIterations: 20,
    fallTolerance: pass === 2 ? 1e-2 : 1,
  });
  evaluate(found.parameters, model);
  return found;
}

/**
 * Where the light comes near full scale, half of the noise is cut off: pixels that happen not to saturate there look
 * darker than they are, and count for nothing.
 */
function disbelieve(model: Float64Array, sigma: Float64Array, ceiling: number): void {
  for (let i = 0; i < model.length; i++) if (model[i] + 4 * sigma[i] > ceiling) sigma[i] = 1e6;
}
