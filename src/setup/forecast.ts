/**
 * The forward chain: from a setup to the picture the camera will see. Three stages, so that a door which repeats the
 * chain while a control is dragged can keep what has not changed: the vapour, the curve, the picture.
 */
import { cos, sin, tan } from "../numerics/elementary/index.ts";
import { type CameraInput, type Frame, type LightOptions, renderLight, soften } from "../picture/index.ts";
import type { GridSize } from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import { coldCurve, curveStage } from "./curve-stage.ts";
import { fingerprint } from "./fingerprint.ts";
import { frameOf } from "./frame.ts";
import type { CurveStage, ForecastOptions, VapourStage } from "./stages.ts";
import { vapourStage } from "./vapour-stage.ts";

export interface Forecast {
  readonly setup: Setup;
  readonly vapour: VapourStage;
  readonly curve: CurveStage;
  /** relative light, rows × columns, 1 in the middle of the brightest part of the cold line */
  readonly light: Float32Array;
  readonly frame: Frame;
  readonly provenance: Provenance;
}

export interface Provenance {
  readonly program: string;
  readonly setup: string;
  readonly seed: number;
  readonly grid: GridSize;
}

export const PROGRAM_VERSION = "0.1.0";

export function pictureStage(setup: Setup, curve: CurveStage): { light: Float32Array; frame: Frame } {
  const light = lightOf(curve, setup.camera);
  return { light, frame: frameOf(light, setup.camera, curve) };
}

/** Relative light of a curve on the sensor, colours out of focus included. Options as for `renderLight`. */
export function lightOf(curve: CurveStage, camera: CameraInput, options: LightOptions = {}): Float32Array {
  const light = renderLight(curve.bundle, curve.map, curve.scale, camera, options);
  if (curve.soft !== undefined) soften(light, curve.soft, camera);
  return light;
}

/** The whole chain. Throws a Refusal where the setup is outside what the physics can answer. */
export function forecast(setup: Setup, options: ForecastOptions = {}): Forecast {
  const vapour = vapourStage(setup, options);
  const hot = curveStage(setup, vapour);
  const curve = options.cold === true ? coldCurve(hot) : hot;
  const { light, frame } = pictureStage(setup, curve);
  return {
    setup,
    vapour,
    curve,
    light,
    frame,
    provenance: {
      program: PROGRAM_VERSION,
      setup: fingerprint(setup),
      seed: setup.camera.seed,
      grid: vapour.field.size,
    },
  };
}

/** The curve as points: mean deflection and transmission over the beam, with the pixel where it falls. */
export interface CurvePoints {
  readonly wavelength: Float64Array;
  /** rad, positive upward at the tube */
  readonly deflection: Float64Array;
  readonly transmission: Float64Array;
  /** pixels, first pixel spans 0 to 1 */
  readonly column: Float64Array;
  /** pixels from the top */
  readonly row: Float64Array;
}

export function curvePoints(setup: Setup, curve: CurveStage): CurvePoints {
  const { bundle, map, scale } = curve;
  const n = bundle.wavelengths.length;
  const deflection = new Float64Array(n);
  const transmission = new Float64Array(n);
  const column = new Float64Array(n);
  const row = new Float64Array(n);
  const { camera } = setup;
  const position = new Float64Array(n);
  map.positions(bundle.wavelengths, position);
  const cosine = cos(scale.roll);
  const sine = sin(scale.roll);
  for (let i = 0; i < n; i++) {
    for (let h = 0; h < bundle.weights.length; h++) {
      deflection[i] += bundle.weights[h] * bundle.deflection[h * n + i];
      transmission[i] += bundle.weights[h] * bundle.transmission[h * n + i];
    }
    const x = position[i];
    const own = deflection[i] * scale.perRadian;
    const up = own + x * tan(scale.levelSlitTilt);
    const bent = x + map.smile * own * own;
    column[i] = camera.columns / 2 + (bent * cosine - up * sine) / camera.pixel;
    row[i] = camera.rows / 2 - (bent * sine + up * cosine) / camera.pixel;
  }
  return { wavelength: bundle.wavelengths, deflection, transmission, column, row };
}
