/** The order of work from decoded frames to the fitted model. */
import type { ReadingInput } from "./api.ts";
import { bandOfPixels } from "./band-pixels.ts";
import type { ColdLine } from "./cold-line.ts";
import { type CurveSetting, curveWorkspace } from "./curve-model.ts";
import { enoughPixels } from "./first-look.ts";
import { type NoiseModel, noiseFromResiduals } from "./noise.ts";
import { pixelBand } from "./pixel-band.ts";
import type { ParameterName, PixelFitInput } from "./fit-parameters.ts";
import { fitPixels, fitScratch, type PixelFit, renderValues } from "./pixel-fit.ts";
import type { ModelScratch } from "./pixel-model.ts";
import { type Prepared, prepare, type SeenSides } from "./prepare.ts";
import { stripesOf } from "./stripes.ts";
import { bothValleys, twoValleys, type Valleys, valleysAgain } from "./valleys.ts";

/** Everything that the answers are made of. */
export interface FittedPicture extends Omit<Prepared, "settled"> {
  readonly fit: PixelFit;
  readonly pixels: Int32Array;
  readonly struckPixels: readonly number[];
  /** columns along the spectrum that smoke or dust dims, left out */
  readonly dimmedColumns: number;
  /** largest share of the light that these lack beside or in a line's own gap; 0 where none lies there */
  readonly lossBeside: number;
  /** false where the light bends by less than three standard deviations: the gradient's shape was then not fitted */
  readonly gradientSeen: boolean;
  /** the valley not taken, where the picture leaves a doubt which is the right one; null where it does not */
  readonly rival: { readonly values: PixelFit["values"]; readonly share: number } | null;
}

const MARGIN = { columns: 5, rows: 6, edge: 8 };
const FIRST_MARGIN = { columns: 10, rows: 12, edge: 8 };
const ENOUGH_AT_FIRST = 12_000;
/** Cost of the higher valley above the lower one on those few pixels from which on the choice is clear, ½χ². */
const CLEAR_AT_FIRST = 12;
/** Rows of the search for each height of the cold line: as many show its shape. */
const ROWS_AT_FIRST = 4;
/** Pixels of a rough fit (ReadingOptions.rough). */
const ENOUGH_IF_ROUGH = 6000;
/** As many wild pixels are dust; more are a fault of the model, which χ² shall show. */
const MOST_STRUCK = 0.02;
/** A gradient below so many standard deviations has no shape to be fitted. */
const SEEN = 3;
/** Damping of the first step where fewer pixels have found the valley: its flat directions are gone along at once. */
const NEAR = 1e-6;
/** What is said of a gradient that is there. */
const SHAPE: readonly ParameterName[] = ["gradient change", "gradient bow"];

export function fitPicture(input: ReadingInput): FittedPicture {
  const fitted = fitUnless(input, () => false);
  if (fitted === null) throw new Error("nothing was strange, yet nothing was fitted");
  return fitted;
}

/** The same, given up before the costly part where the first look is strange: null. */
export function fitUnless(input: ReadingInput, strange: (seen: SeenSides) => boolean): FittedPicture | null {
  const prepared = prepare(input, strange);
  return prepared && fitPrepared(prepared, input.options?.maxIterations ?? 30);
}

function fitPrepared(prepared: Prepared, maxIterations: number): FittedPicture {
  const { hot, setting, fixed, slitWidth, terms, stored, cold, rough } = prepared;
  let { undeflected } = prepared;
  const scratch = fitScratch(hot.columns, hot.rows);
  const threshold = 0.3 * Math.sqrt(undeflected.noise.floor);
  // Counts coarser than the noise make χ² a staircase: it is walked down in short steps.
  const most = stored.step > 0 ? 3 * maxIterations : maxIterations;
  const base = { stored, frame: hot, fixed, slitWidth, maxIterations: most, scratch, every: 1 };
  renderValues(setting, fixed, slitWidth, curveWorkspace(setting), scratch, hot);
  const firstBand = pixelBand(scratch.image, hot, threshold, FIRST_MARGIN);
  enoughPixels(firstBand.length, terms.length);
  // A few thousand pixels on a few rows show the way as well as all of them.
  const every = Math.max(1, Math.floor((undeflected.width + 2 * undeflected.sigma) / ROWS_AT_FIRST));
  const drawn = (list: Int32Array): Int32Array => onRows(list, hot.columns, every);
  const thinned = (list: Int32Array): Int32Array => everyOther(drawn(list), ENOUGH_AT_FIRST);
  let fit = fitPixels({
    ...base,
    every,
    setting,
    noise: undeflected.noise,
    terms,
    pixels: thinned(firstBand),
    loss: "huber",
    fallTolerance: 2,
  });
  const places = (f: PixelFit): number[] =>
    setting.anchors.length === 2 ? [f.values["line 1"], f.values["line 2"]] : [f.values["line 1"]];
  // From here on: tables at the density found, the band where the light is, what is dimmed or wild left out.
  let settled: CurveSetting = setting;
  let band: Int32Array = firstBand;
  const settle = (): void => {
    settled = prepared.settled(fit.values["column density"], places(fit));
    renderValues(settled, fit.values, slitWidth, curveWorkspace(settled), scratch, hot);
    band = pixelBand(scratch.image, hot, threshold, MARGIN);
  };
  settle();
  let first: Valleys | null = null;
  if (!rough) {
    first = bothValleys({
      ...base,
      every,
      setting: settled,
      noise: undeflected.noise,
      terms: restarted(terms, fit),
      fixed: { ...fixed, ...fit.values },
      pixels: thinned(band),
      loss: "huber",
      fallTolerance: 0.5,
    });
    fit = first.best;
    settle();
  }
  const left = new Uint8Array(hot.light.length);
  let dimmedColumns = 0;
  let lossBeside = 0;
  for (let pass = 0; pass < 3; pass++) {
    if (cold === null) undeflected = { ...undeflected, noise: noiseOfHot(prepared, fit, scratch, band) };
    const stripes = stripesOf(prepared, undeflected.noise, fit, scratch.image, band);
    if (stripes.count === dimmedColumns && pass > 0) break;
    dimmedColumns = stripes.count;
    lossBeside = stripes.lossBeside;
    left.fill(0);
    for (const i of stripes.pixels) left[i] = 1;
    const bright = nearlySaturated(prepared, undeflected, fit, scratch, band);
    for (const i of bright) left[i] = 1;
    // On some rows only, as before: what is left out changes little, and all pixels are fitted in the end.
    const again = pass === 0 && (cold === null || bright.length > 0);
    if (dimmedColumns === 0 && !again) break;
    const kept: PixelFitInput = {
      ...base,
      every,
      setting: settled,
      noise: undeflected.noise,
      terms: restarted(terms, fit),
      fixed: { ...fixed, ...fit.values },
      pixels: drawn(without(band, left)),
      loss: "huber",
      fallTolerance: 0.5,
    };
    // Smoke and full scale may have tipped the choice between the valleys.
    if (first !== null) first = bothValleys(kept);
    fit = first?.best ?? fitPixels(kept);
    settle();
  }
  const believed = without(band, left);
  const struckPixels = wildPixels(prepared, undeflected, fit, scratch, believed);
  for (const i of struckPixels) left[i] = 1;
  const all = struckPixels.length > 0 ? without(believed, left) : believed;
  const pixels = rough ? everyOther(all, ENOUGH_IF_ROUGH) : all;
  const restart = restarted(terms, fit);
  const final: PixelFitInput = {
    ...base,
    setting: settled,
    noise: undeflected.noise,
    terms: restart,
    fixed: { ...fixed, ...fit.values },
    pixels,
    loss: "squares",
    fallTolerance: rough ? 0.5 : 1e-3,
    damping: NEAR,
  };
  const { correlation } = undeflected.noise;
  let valleys: Valleys | null = null;
  if (first !== null && first.gap < CLEAR_AT_FIRST && twoValleys(first))
    valleys = valleysAgain(final, first, (best) => spreadOf(best, correlation));
  const shaped = valleys?.best ?? fitPixels(final);
  const gradientSeen = seen(shaped, restart, correlation);
  const flat = gradientSeen ? null : withoutShape(final, shaped, prepared.conditions);
  const { settled: _settled, ...known } = prepared;
  return {
    ...known,
    undeflected,
    setting: settled,
    terms: flat?.terms ?? restart,
    fit: flat === null ? shaped : fitPixels(flat),
    pixels,
    struckPixels,
    dimmedColumns,
    lossBeside,
    gradientSeen,
    rival: valleys && gradientSeen && twoValleys(valleys) ? rivalOf(valleys, correlation) : null,
  };
}

/** Does the light bend at all? By the fit's own covariance, widened as all uncertainties are. */
function seen(fit: PixelFit, terms: Prepared["terms"], correlation: number): boolean {
  const at = terms.findIndex(({ name }) => name === "column gradient");
  const variance = fit.solution.covariance[at * terms.length + at];
  const sigma = Math.sqrt(variance * spreadOf(fit, correlation));
  // Not a number, where the fit went astray: nothing is said against the gradient then.
  return !(Math.abs(fit.values["column gradient"]) < SEEN * sigma);
}

/** Without a gradient its shape runs against any limit: held as the vessel has it, even where that says nothing. */
function withoutShape(
  final: PixelFitInput,
  { values }: PixelFit,
  { change, bow }: Prepared["conditions"],
): PixelFitInput {
  return {
    ...final,
    terms: final.terms
      .filter(({ name }) => !SHAPE.includes(name))
      .map((term) => ({ ...term, start: values[term.name] })),
    fixed: { ...values, "gradient change": change ?? 0, "gradient bow": bow },
  };
}

/** How much the other valley may be believed, 0…½: by its χ², widened as all uncertainties are. */
function rivalOf({ best, other, gap }: Valleys, correlation: number): FittedPicture["rival"] {
  const odds = Math.exp(-gap / spreadOf(best, correlation));
  return { values: other.values, share: odds / (1 + odds) };
}

/** How much wider than independent noise makes it ½χ² scatters between two models. */
function spreadOf({ reducedChiSquare }: PixelFit, correlation: number): number {
  return Math.max(1, reducedChiSquare) * correlation;
}

/** Those of a list that lie on every so manieth row. */
function onRows(list: Int32Array, columns: number, every: number): Int32Array {
  const chosen = new Int32Array(list.length);
  let count = 0;
  for (let k = 0; k < list.length; k++)
    if (Math.floor(list[k] / columns) % every === 0) chosen[count++] = list[k];
  return chosen.slice(0, count);
}

/** Every so manieth of a list, at most about so many. */
function everyOther(list: Int32Array, most: number): Int32Array {
  const stride = Math.ceil(list.length / most);
  if (stride <= 1) return list;
  const chosen = new Int32Array(Math.ceil(list.length / stride));
  for (let k = 0; k < chosen.length; k++) chosen[k] = list[k * stride];
  return chosen;
}

/** Those of a list that are not left out. */
function without(list: Int32Array, left: Uint8Array): Int32Array {
  const chosen = new Int32Array(list.length);
  let count = 0;
  for (let k = 0; k < list.length; k++) if (left[list[k]] === 0) chosen[count++] = list[k];
  return chosen.slice(0, count);
}

function restarted(terms: Prepared["terms"], fit: PixelFit): Prepared["terms"] {
  return terms.map((term) => ({ ...term, start: fit.values[term.name] }));
}

/** Without a cold frame: noise from the hot picture's own residuals. */
function noiseOfHot(
  { hot, darkNoise }: Prepared,
  fit: PixelFit,
  scratch: ModelScratch,
  band: Int32Array,
): NoiseModel {
  const { background } = fit.values;
  const model = Float64Array.from(band, (i) => scratch.image[i] + background);
  return noiseFromResiduals(bandOfPixels(hot, band), model, background, darkNoise);
}

/** Pixels bright enough for their noise to be cut at full scale: those that are not saturated there only look darker. */
function nearlySaturated(
  { hot }: Prepared,
  { noise }: ColdLine,
  fit: PixelFit,
  { image }: ModelScratch,
  band: Int32Array,
): number[] {
  const list: number[] = [];
  if (hot.saturatedCount === 0) return list;
  for (const i of band) {
    const sigma = Math.sqrt(noise.floor + noise.perLight * image[i]);
    if (image[i] + fit.values.background + 4 * sigma > hot.ceiling) list.push(i);
  }
  return list;
}

/** Pixels far off the model: dust, cosmic rays, leaking pixels. */
function wildPixels(
  { hot }: Prepared,
  { noise }: ColdLine,
  fit: PixelFit,
  { image }: ModelScratch,
  band: Int32Array,
): number[] {
  const struck: number[] = [];
  for (const i of band) {
    const sigma = Math.sqrt(noise.floor + noise.perLight * image[i]);
    if (Math.abs(image[i] + fit.values.background - hot.light[i]) > 8 * sigma) struck.push(i);
  }
  return struck.length > MOST_STRUCK * band.length ? [] : struck;
}
