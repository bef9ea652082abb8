/** What a fitted picture says against what its setup foretells, each difference in units of what a good bench scatters by. */
import { imageScale } from "../path/index.ts";
import type { VapourStage } from "../setup/index.ts";
import { curveWorkspace, fillCurve } from "./curve-model.ts";
import { GOOD_DAY, SILENT, type Signs } from "./diagnose-good-day.ts";
import type { FittedPicture } from "./fit-picture.ts";
import type { LampFrame } from "./lamp-frame.ts";
import { curveParameters } from "./fit-parameters.ts";

/** Widths below this are pixel, not light; pixels. */
const NARROWEST = 0.3;
/** χ² per degree of freedom up to which a fit is believed. */
const GOOD_FIT = 3;

export function signsOf(fitted: FittedPicture, foretold: VapourStage): Signs {
  const { setup, fit, undeflected, cold, lamp, map, setting } = fitted;
  const { values } = fit;
  const optics = imageScale(setup.path, map);
  const { pixel } = setup.camera;
  const { columnGradient, columnDensity, gasColumnGradient } = foretold.middle;
  const density = Math.log(Math.abs(values["column density"] / columnDensity));
  // Even vapour, foretold as even: its gradient's noise says nothing.
  const gradient =
    columnGradient === 0 ? density : Math.log(Math.abs(values["column gradient"] / columnGradient));
  const slope = cold ? cold.slope : values.slope;
  const roll = cold && lamp ? fitted.geometry.roll : values.roll;
  const tilt = roll + Math.atan(slope) - setup.path.cameraRoll - setup.path.levelSlitTilt;
  const { loss, stripes } = lightLoss(fitted);
  const gasShift = fitted.gasRefractivity * gasColumnGradient * setting.pixelsPerRadian;
  const dark = setup.camera.blackLevel;
  const full = (setup.camera.rate * setup.camera.exposure) / setup.camera.fullWell;
  const foretoldDark = dark + (1 - dark) * setup.path.stray * full;
  // A fit that misses the picture says less.
  const doubt = Math.sqrt(Math.max(1, fit.reducedChiSquare / GOOD_FIT));
  return {
    ...SILENT,
    columns: (gradient + density) / 2 / GOOD_DAY.columns / doubt,
    apart: (density - gradient) / GOOD_DAY.apart / doubt,
    inverted: fitted.gradientSeen && values["column gradient"] * columnGradient < 0,
    handsAlike: handsAlike(fitted),
    tilt: tilt / GOOD_DAY.angle,
    lean: lamp ? (lamp.geometry.roll - setup.path.cameraRoll) / GOOD_DAY.angle : null,
    slitHeight: cold ? Math.log((cold.width * pixel) / optics.levelSlitHeight) / GOOD_DAY.slit : 0,
    slitWidth: lamp
      ? Math.log(lampSpread(lamp) / spread(optics.plumbSlitWidth / pixel, optics.blurWidth / pixel)) /
        GOOD_DAY.plumbSlit
      : null,
    blur: cold
      ? Math.log(Math.max(undeflected.sigma, NARROWEST) / Math.max(optics.blurHeight / pixel, NARROWEST)) /
        GOOD_DAY.blur
      : 0,
    saturated: fitted.hot.saturatedCount / Math.max(litPixels(fitted), 1) / GOOD_DAY.saturated,
    loss: cold ? loss / GOOD_DAY.loss / doubt : 0,
    stripes: cold ? stripes / GOOD_DAY.stripes : 0,
    stray: (values.background - foretoldDark) / GOOD_DAY.stray / doubt,
    drift: cold ? (values.offset - undeflected.offset - gasShift) / GOOD_DAY.drift / doubt : 0,
    ...lineSigns(fitted),
    linesSure: lamp !== null,
  };
}

/** Do the lines stand where, and as strong as, the setup says? */
function lineSigns(fitted: FittedPicture): Pick<Signs, "ratio" | "place" | "separation" | "lampPlace"> {
  const { setting, fit, map, setup, hot, scale, assignment } = fitted;
  const { values } = fit;
  const { pixel } = setup.camera;
  // Gaps, not the fit's lines: a fit of wrong lines may end anywhere.
  const found = assignment.pairs.map((p) => p.gap.along);
  const expected = setting.anchors.map((wavelength) => map.position(wavelength) / pixel);
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const pair = found.length === 2;
  const offLamp = scale ? found.map((u, k) => setting.wavelengthAt(u) - setting.anchors[k]) : [0];
  return {
    ratio: pair ? Math.log(values["strength ratio"]) / GOOD_DAY.ratio : 0,
    place: (mean(found) - mean(expected)) / hot.columns / GOOD_DAY.place,
    separation: pair
      ? Math.log(Math.abs((found[1] - found[0]) / (expected[1] - expected[0]))) / GOOD_DAY.separation
      : 0,
    lampPlace: offLamp.reduce((far, d) => Math.max(far, Math.abs(d)), 0) / GOOD_DAY.lampPlace,
  };
}

/** One line, or two of about the same strength, look the same from both sides; a lamp's lines do not. */
function handsAlike({ assignment, scale }: FittedPicture): boolean {
  const [a, b] = assignment.pairs.map((p) => p.line.strength);
  return scale === null && (assignment.pairs.length < 2 || Math.abs(Math.log(a / b)) < 0.25);
}

export function spread(width: number, sigma: number): number {
  return Math.sqrt(width ** 2 / 12 + sigma ** 2);
}

export function lampSpread(lamp: LampFrame): number {
  return spread(lamp.lineWidth, lamp.lineSigma);
}

function litPixels(fitted: FittedPicture): number {
  let count = fitted.hot.saturatedCount;
  const { fit } = fitted;
  for (let i = 0; i < fit.model.length; i++) if (fit.model[i] > fit.values.background + 0.05) count++;
  return count;
}

export interface Block {
  /** columns of the middle row */
  readonly from: number;
  readonly to: number;
  /** ln of light over what the fit lets through */
  readonly excess: number;
}

/** Light over model in blocks of columns, where the vapour lets most of it through. */
export function lightBlocks(fitted: FittedPicture): Block[] {
  const { trace, reference } = fitted;
  const n = trace.light.length;
  const passed = transmission(fitted, n);
  const size = Math.max(8, Math.floor(n / 60));
  const blocks: Block[] = [];
  for (let from = size; from + size < n - size; from += size) {
    let light = 0;
    let full = 0;
    let least = 1;
    for (let k = from; k < from + size; k++) {
      light += trace.light[k];
      full += reference[k] * passed[k];
      least = Math.min(least, passed[k]);
    }
    if (least > 0.7 && light > 0 && full > 0)
      blocks.push({ from, to: from + size, excess: Math.log(light / full) });
  }
  return blocks;
}

/** Light lost at all wavelengths, and its typical unevenness from place to place. */
function lightLoss(fitted: FittedPicture): { loss: number; stripes: number } {
  const logs = lightBlocks(fitted).map((b) => b.excess);
  // Middle values, not means: a block whose light has left the frame is no stripe.
  const middle = median(logs);
  const unevenness = 1.4826 * median(logs.map((v) => Math.abs(v - middle)));
  return { loss: -Math.log(fitted.fit.values.brightness), stripes: logs.length > 3 ? unevenness : 0 };
}

/** Share of the light that the fitted vapour lets through in the middle of the beam, per column of the middle row. */
function transmission(fitted: FittedPicture, columns: number): Float64Array {
  return middleCurve(fitted, columns).light;
}

/** Place and light left along the middle row's columns, in the middle of the beam. */
export function middleCurve(
  fitted: FittedPicture,
  columns: number,
): { readonly place: Float64Array; readonly light: Float64Array } {
  const { setting, fit } = fitted;
  const flat = {
    ...setting,
    beam: Float64Array.of(0),
    weights: Float64Array.of(1),
    spectrum: new Float64Array(columns).fill(1),
    nodes: Float64Array.from({ length: columns }, (_, k) => k + 0.5 - columns / 2),
  };
  const work = curveWorkspace(flat);
  fillCurve(flat, { ...curveParameters(fit.values, setting.anchors.length), brightness: 1 }, work);
  return work.curve;
}

function median(values: readonly number[]): number {
  return values.length === 0 ? 0 : [...values].sort((a, b) => a - b)[values.length >> 1];
}
