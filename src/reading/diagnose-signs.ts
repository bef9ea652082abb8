/** What a reading says against what the setup foretells, each difference in units of what a good bench scatters by. */
import { imageScale, spectralMap } from "../path/index.ts";
import { vapourStage } from "../setup/index.ts";
import { curveWorkspace, fillCurve } from "./curve-model.ts";
import type { FittedPicture } from "./fit-picture.ts";
import { curveParameters } from "./pixel-fit.ts";

/** Signed differences, standard deviations of an ordinary good day; 0 where nothing can be said. */
export interface Signs {
  /** ln of measured over foretold column gradient and column density */
  readonly gradient: number;
  readonly density: number;
  /** true where dense vapour stands on the other side than foretold */
  readonly inverted: boolean;
  /** slope of the undeflected line against the setup's */
  readonly tilt: number;
  /** lean of the spectral lines against the setup's camera roll; 0 without lamp */
  readonly lean: number;
  readonly slitHeight: number;
  readonly blur: number;
  readonly saturated: number;
  /** light lost between cold and hot picture, and unevenly so */
  readonly loss: number;
  readonly stripes: number;
  readonly stray: number;
  /** shift of all wavelengths since the cold frame, beyond the gas's own */
  readonly drift: number;
  readonly scale: number;
}

/**
 * Scatter of a good day: temperatures of a few kelvin move density and gradient alike by 10–15 %, adjusting leaves a
 * milliradian, a slit 10 %, focus 15 %, a lamp's brightness 3 %. Common practice, no source.
 */
const GOOD_DAY = {
  columns: 0.12,
  angle: 1.2e-3,
  slit: 0.08,
  blur: 0.12,
  saturated: 0.002,
  loss: 0.03,
  stray: 0.004,
  drift: 0.6,
  ratio: 0.03,
};

export function signsOf(fitted: FittedPicture): Signs {
  const { setup, fit, undeflected, cold, lamp, hot, setting } = fitted;
  const { values } = fit;
  const vapour = vapourStage(setup);
  const map = spectralMap(setup.path);
  const optics = imageScale(setup.path, map);
  const { pixel } = setup.camera;
  const { columnGradient, columnDensity } = vapour.middle;
  const gradient = values["column gradient"];
  const columns = (measured: number, foretold: number): number =>
    Math.log(Math.abs(measured / foretold)) / GOOD_DAY.columns;
  const tilt = values.roll + Math.atan(values.slope) - setup.path.cameraRoll - setup.path.levelSlitTilt;
  const foretoldBlur = Math.max(optics.blurHeight / pixel, 0.3);
  const lit = litPixels(fitted);
  const { loss, stripes } = lightLoss(fitted);
  const gasShift = offsetOfGas(fitted, vapour.middle.gasColumnGradient);
  return {
    gradient: columns(gradient, columnGradient),
    density: columns(values["column density"], columnDensity),
    inverted: Math.sign(gradient) !== Math.sign(columnGradient),
    tilt: tilt / GOOD_DAY.angle,
    lean: lamp ? (values.roll - setup.path.cameraRoll) / GOOD_DAY.angle : 0,
    slitHeight: cold ? Math.log((undeflected.width * pixel) / optics.levelSlitHeight) / GOOD_DAY.slit : 0,
    blur: cold ? Math.log(Math.max(undeflected.sigma, 0.3) / foretoldBlur) / GOOD_DAY.blur : 0,
    saturated: hot.saturatedCount / Math.max(lit, 1) / GOOD_DAY.saturated,
    loss: cold ? loss / GOOD_DAY.loss : 0,
    stripes: cold ? stripes / GOOD_DAY.loss : 0,
    stray: (values.background - setup.camera.blackLevel - setup.path.stray * 0.6) / GOOD_DAY.stray,
    drift: cold ? (values.offset - undeflected.offset - gasShift) / GOOD_DAY.drift : 0,
    scale: setting.anchors.length === 2 ? Math.log(values["strength ratio"]) / GOOD_DAY.ratio : 0,
  };
}

function litPixels(fitted: FittedPicture): number {
  let count = fitted.hot.saturatedCount;
  const { fit } = fitted;
  for (let i = 0; i < fit.model.length; i++) if (fit.model[i] > fit.values.background + 0.05) count++;
  return count;
}

/** Light lost at all wavelengths, and its typical unevenness from place to place where the vapour lets most of it through. */
function lightLoss(fitted: FittedPicture): { loss: number; stripes: number } {
  const { trace, reference, fit } = fitted;
  const n = trace.light.length;
  const passed = transmission(fitted, n);
  const block = Math.max(8, Math.floor(n / 60));
  const logs: number[] = [];
  for (let first = block; first + block < n - block; first += block) {
    let light = 0;
    let full = 0;
    let least = 1;
    for (let k = first; k < first + block; k++) {
      light += trace.light[k];
      full += reference[k] * passed[k];
      least = Math.min(least, passed[k]);
    }
    if (least > 0.7 && light > 0 && full > 0) logs.push(Math.log(light / full));
  }
  // Middle values, not means: a block whose light has left the frame is no stripe.
  const middle = median(logs);
  const spread = 1.4826 * median(logs.map((v) => Math.abs(v - middle)));
  return { loss: -Math.log(fit.values.brightness), stripes: logs.length > 3 ? spread : 0 };
}

/** Share of the light that the fitted vapour lets through in the middle of the beam, per column of the middle row. */
function transmission(fitted: FittedPicture, columns: number): Float64Array {
  const { setting, fit } = fitted;
  const one = { ...setting, beam: Float64Array.of(0), weights: Float64Array.of(1) };
  const flat = {
    ...one,
    spectrum: new Float64Array(columns).fill(1),
    nodes: Float64Array.from({ length: columns }, (_, k) => k + 0.5 - columns / 2),
  };
  const work = curveWorkspace(flat);
  fillCurve(flat, { ...curveParameters(fit.values, setting.anchors.length), brightness: 1 }, work);
  return work.curve.light;
}

function median(values: readonly number[]): number {
  return values.length === 0 ? 0 : [...values].sort((a, b) => a - b)[values.length >> 1];
}

/** Shift of the whole curve by the buffer gas's own gradient, pixels. */
function offsetOfGas(fitted: FittedPicture, gasColumnGradient: number): number {
  return fitted.gasRefractivity * gasColumnGradient * fitted.setting.pixelsPerRadian;
}
