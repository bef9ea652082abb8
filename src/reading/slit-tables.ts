/** The two slits' images as tables, with their slopes in width and blur: what the pixel model reads in its inner loops. */
import { pixelOfBox } from "./smooth-box.ts";

export interface Blur {
  /** level slit's image: full width and Gaussian blur, pixels */
  readonly slitHeight: number;
  readonly sigmaHeight: number;
  /** plumb slit's image: full width and Gaussian blur, pixels */
  readonly slitWidth: number;
  readonly sigmaWidth: number;
}

/** Entries per pixel. */
export const PHASES = 64;
const REACH_SIGMAS = 4.5;
/** Step of the difference quotients in width and blur, pixels. */
const STEP = 1e-3;

/** The level slit's image on a fine grid from −reach to reach, and its running integral. */
export interface SlitTable {
  readonly shape: Float64Array;
  readonly integral: Float64Array;
  readonly reach: number;
}

/** The plumb slit's image at offsets −half…half. */
export interface Kernel {
  readonly values: Float64Array;
  readonly half: number;
}

/** Variances of the image of one point of light, pixel and blur included, pixels². */
export interface Variances {
  readonly up: number;
  readonly across: number;
}

export function variancesOf({ slitHeight, sigmaHeight, slitWidth, sigmaWidth }: Blur): Variances {
  const ofPixel = 1 / 12;
  return {
    up: slitHeight ** 2 / 12 + sigmaHeight ** 2 + ofPixel,
    across: slitWidth ** 2 / 12 + sigmaWidth ** 2 + ofPixel,
  };
}

function slitHalf(blur: Blur): number {
  return Math.ceil((blur.slitHeight / 2 + 0.5 + REACH_SIGMAS * blur.sigmaHeight) * PHASES);
}

function filled(half: number, at: (v: number) => number): SlitTable {
  const shape = new Float64Array(2 * half + 1);
  const integral = new Float64Array(2 * half + 1);
  for (let i = 0; i <= half; i++) shape[i] = shape[2 * half - i] = at((i - half) / PHASES);
  for (let i = 1; i < shape.length; i++)
    integral[i] = integral[i - 1] + (shape[i - 1] + shape[i]) / (2 * PHASES);
  return { shape, integral, reach: half / PHASES };
}

export function slitTable(blur: Blur): SlitTable {
  return filled(slitHalf(blur), (v) => pixelOfBox(v, blur.slitHeight, blur.sigmaHeight));
}

/** The same table's derivative with respect to the slit image's width or blur, per pixel. */
export function slitSlopeTable(blur: Blur, by: "slitHeight" | "sigmaHeight"): SlitTable {
  const more = { ...blur, [by]: blur[by] + STEP };
  const less = { ...blur, [by]: blur[by] - STEP };
  return filled(
    slitHalf(blur),
    (v) =>
      (pixelOfBox(v, more.slitHeight, more.sigmaHeight) - pixelOfBox(v, less.slitHeight, less.sigmaHeight)) /
      (2 * STEP),
  );
}

function kernelHalf(blur: Blur): number {
  return Math.ceil(blur.slitWidth / 2 + 0.5 + REACH_SIGMAS * blur.sigmaWidth);
}

export function blurKernel(blur: Blur): Kernel {
  const half = kernelHalf(blur);
  const values = new Float64Array(2 * half * PHASES + 2);
  for (let i = 0; i < values.length; i++)
    values[i] = pixelOfBox(i / PHASES - half, blur.slitWidth, blur.sigmaWidth) / blur.slitWidth;
  return { values, half };
}

/** Its derivative with respect to the blur, per pixel. */
export function blurSlopeKernel(blur: Blur): Kernel {
  const half = kernelHalf(blur);
  const values = new Float64Array(2 * half * PHASES + 2);
  const { slitWidth, sigmaWidth } = blur;
  for (let i = 0; i < values.length; i++) {
    const v = i / PHASES - half;
    values[i] =
      (pixelOfBox(v, slitWidth, sigmaWidth + STEP) - pixelOfBox(v, slitWidth, sigmaWidth - STEP)) /
      (2 * STEP * slitWidth);
  }
  return { values, half };
}

/** Integral of a tabulated shape up to x steps: exact for the straight pieces between its entries. */
export function tableIntegral(integral: Float64Array, shape: Float64Array, x: number, top: number): number {
  if (x <= 0) return 0;
  if (x >= top) return integral[top];
  const i = x | 0;
  const f = x - i;
  return integral[i] + (f * (shape[i] + 0.5 * f * (shape[i + 1] - shape[i]))) / PHASES;
}

/** A tabulated shape at x steps; 0 outside. */
export function tableValue(shape: Float64Array, x: number, top: number): number {
  if (x <= 0 || x >= top) return 0;
  const i = x | 0;
  return shape[i] + (x - i) * (shape[i + 1] - shape[i]);
}
