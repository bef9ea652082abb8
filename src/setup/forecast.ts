/**
 * The forward chain: from a setup to the picture the camera will see. Three stages, so that a door which repeats the
 * chain while a control is dragged can keep what has not changed: the vapour, the curve, the picture.
 */

import {
  gasRefractivityPerDensity,
  type PerAtom,
  perAtom,
  type VapourState,
  zerosBetweenLines,
} from "../medium/index.ts";
import {
  beamStrips,
  benchEdges,
  coldBundle,
  curveBundle,
  curveGrid,
  type ImageScale,
  imageScale,
  type SpectralMap,
  spectralMap,
  throughBench,
} from "../path/index.ts";
import {
  type CameraInput,
  type CurveBundle,
  type Frame,
  type LightOptions,
  record,
  renderLight,
  soften,
  type Softness,
} from "../picture/index.ts";
import { linesOf } from "../reference/index.ts";
import {
  type BeamColumns,
  beamColumns,
  type GridSize,
  type ShellState,
  shellWarnings,
  solveVapour,
  type VapourField,
  type VesselNumbers,
  vesselNumbers,
  wallReadings,
} from "../vessel/index.ts";
import type { Setup } from "./api.ts";
import { fingerprint } from "./fingerprint.ts";
import { type LineGap, lineGap } from "./gap.ts";
import { rolledColumns } from "./rolled.ts";
import { softnessOf } from "./softness.ts";

/** Beam heights over which the picture is averaged: equal slices of the beam. */
export const BEAM_SLICES = 9;

export interface VapourStage {
  readonly field: VapourField;
  /** the shell that the wall was taken from, where the setup gives a heater */
  readonly shell?: ShellState;
  readonly columns: BeamColumns;
  readonly weights: Float64Array;
  readonly numbers: VesselNumbers;
  /** the vapour as it acts on the middle of the beam */
  readonly state: VapourState;
  /** columns of the middle slice */
  readonly middle: {
    readonly columnDensity: number;
    readonly columnGradient: number;
    readonly gasColumnGradient: number;
  };
}

export interface CurveStage {
  readonly bundle: CurveBundle;
  readonly map: SpectralMap;
  readonly scale: ImageScale;
  readonly lines: readonly LineGap[];
  /** vacuum wavelength between the lines where n − 1 of the vapour vanishes, m; null where there is none in the picture */
  readonly zeroBetweenLines: number | null;
  /** the bundle as it left the vapour, where the bench then turned, cut or dimmed it */
  readonly vapourBundle?: CurveBundle;
  /** the setup whose bench did so */
  readonly setup?: Setup;
  /** blur of colours out of focus, one value per column of the setup's sensor; left out where none is seen */
  readonly soft?: Softness;
}

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

export interface ForecastOptions {
  readonly grid?: GridSize;
  /** the wall at some minute of a warm-up instead of the steady one; only for a setup with a heater */
  readonly shell?: ShellState;
  /** field of an earlier forecast, from which the solver starts */
  readonly previous?: VapourField;
  /** slices of the beam's height, odd, default BEAM_SLICES; fewer while a control is dragged */
  readonly slices?: number;
  /** relative residual at which the vapour's solver stops */
  readonly tolerance?: number;
  /** true for the picture of the cold tube: curve, light and frame without vapour and gas gradient; `vapour` stays the hot tube's */
  readonly cold?: boolean;
}

export const PROGRAM_VERSION = "0.1.0";

export function vapourStage(setup: Setup, options: ForecastOptions = {}): VapourStage {
  const shell = options.shell ?? setup.steady;
  const vessel =
    options.shell === undefined
      ? setup.vessel
      : {
          ...setup.vessel,
          map: options.shell,
          wall: { ...setup.vessel.wall, ...wallReadings(options.shell) },
        };
  const field = solveVapour(vessel, options.grid, options.previous, options.tolerance);
  const slices = options.slices ?? BEAM_SLICES;
  const { heights, weights } = beamStrips(setup.path, slices);
  const roll = setup.path.tubeRoll ?? 0;
  const columns = rolledColumns((at) => beamColumns(field, at), heights, roll);
  const m = (slices - 1) / 2;
  const alone = vesselNumbers(field, setup.path.beamHeight * Math.cos(roll));
  const numbers =
    shell === undefined || setup.shell === undefined
      ? alone
      : { ...alone, warnings: [...alone.warnings, ...shellWarnings(setup.shell, shell)] };
  const state: VapourState = {
    element: setup.medium.element,
    density: columns.effectiveDensity[m],
    temperature: columns.effectiveTemperature[m],
    gas: { species: setup.vessel.gas, pressure: Math.max(0, numbers.gasPartialPressure) },
    structure: setup.medium.structure,
    overrides: setup.medium.overrides,
  };
  return {
    field,
    ...(shell === undefined ? {} : { shell }),
    columns,
    weights,
    numbers,
    state,
    middle: {
      columnDensity: columns.columnDensity[m],
      columnGradient: columns.columnGradient[m],
      gasColumnGradient: columns.gasColumnGradient[m],
    },
  };
}

/**
 * @param map the map of `setup.path` where it is already at hand: tracing it costs as much as the rest of the stage
 * @param withLines false leaves out gaps of lines and zeros between them, which a picture alone does not need
 */
export function curveStage(
  setup: Setup,
  vapour: VapourStage,
  map: SpectralMap = spectralMap(setup.path),
  withLines = true,
): CurveStage {
  const scale = imageScale(setup.path, map);
  const { camera } = setup;
  const shown = withLines ? linesInView(setup, map) : [];
  const { columnDensity, columnGradient } = vapour.middle;
  const { wavelengths, perAtom: atoms } = curveGrid({
    map,
    width: camera.columns * camera.pixel,
    height: camera.rows * camera.pixel,
    step: camera.pixel,
    perAtom: (at) => perAtom(vapour.state, at),
    columnDensity,
    columnGradient,
    perRadian: scale.perRadian,
  });
  const bundle = curveBundle({
    wavelengths,
    perAtom: atomsByHeight(vapour, wavelengths, atoms),
    gasRefractivityPerDensity: gasRefractivityPerDensity(setup.vessel.gas, setup.path.centreWavelength),
    columns: vapour.columns,
    weights: vapour.weights,
  });
  const lines = shown.map((line) => lineGap(vapour.state, line, columnDensity, columnGradient));
  const { path } = setup;
  const through = throughBench(bundle, path, {
    heights: vapour.columns.heights,
    edges: benchEdges(path, setup.vessel),
    hot: true,
  });
  const soft = softnessOf(setup, map);
  return {
    bundle: through,
    map,
    scale,
    lines,
    zeroBetweenLines: zeroInView(vapour.state, shown),
    ...(through === bundle ? {} : { vapourBundle: bundle, setup }),
    ...(soft === undefined ? {} : { soft }),
  };
}

/**
 * Response per atom at each height of the beam: denser slices broaden their own lines more. Away from the dark core the
 * cross-section grows linearly with the density through the width, so two densities serve for all heights.
 */
function atomsByHeight(vapour: VapourStage, wavelengths: Float64Array, middle: PerAtom): readonly PerAtom[] {
  const densities = vapour.columns.effectiveDensity;
  const here = vapour.state.density;
  const there = densities.reduce((far, n) => (Math.abs(n - here) > Math.abs(far - here) ? n : far), here);
  if (there === here) return Array.from(densities, () => middle);
  const other = perAtom({ ...vapour.state, density: there }, wavelengths);
  return Array.from(densities, (density) => {
    const share = (density - here) / (there - here);
    const mix = (a: Float64Array, b: Float64Array): Float64Array =>
      a.map((value, i) => Math.max(0, value + share * (b[i] - value)));
    return {
      refractivityPerDensity: middle.refractivityPerDensity,
      crossSection: mix(middle.crossSection, other.crossSection),
    };
  });
}

/** Lines of the metal that fall on the sensor, by wavelength. */
function linesInView(setup: Setup, map: SpectralMap): { id: string; wavelength: number }[] {
  const half = (setup.camera.columns * setup.camera.pixel) / 2;
  const from = map.wavelengthAt(Math.max(-half, map.reach.left));
  const to = map.wavelengthAt(Math.min(half, map.reach.right));
  return linesOf(setup.medium.element)
    .filter((line) => line.wavelength > from && line.wavelength < to)
    .map((line) => ({ id: line.id, wavelength: line.wavelength }))
    .sort((a, b) => a.wavelength - b.wavelength);
}

function zeroInView(state: VapourState, lines: readonly { wavelength: number }[]): number | null {
  const [first, second] = lines;
  if (first === undefined || second === undefined) return null;
  return zerosBetweenLines(state, first.wavelength, second.wavelength)[0] ?? null;
}

/** The curve of the cold tube on the same wavelengths: undeflected, undimmed, without lines. */
export function coldCurve(curve: CurveStage): CurveStage {
  const bundle = coldBundle(curve.bundle.wavelengths);
  const cold = { ...curve, bundle, lines: [], zeroBetweenLines: null };
  if (curve.setup === undefined) return cold;
  const { path, vessel } = curve.setup;
  const heights = Float64Array.of(path.beamHeight);
  const through = throughBench(bundle, path, { heights, edges: benchEdges(path, vessel), hot: false });
  return { ...cold, bundle: through, vapourBundle: bundle };
}

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

/** The picture that the camera stores of this light, filters, leaks and converter included. */
export function frameOf(light: Float32Array, camera: CameraInput, curve: CurveStage, seed?: number): Frame {
  return record(light, camera, { map: curve.map, roll: curve.scale.roll }, seed ?? camera.seed);
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
  const cos = Math.cos(scale.roll);
  const sin = Math.sin(scale.roll);
  for (let i = 0; i < n; i++) {
    for (let h = 0; h < bundle.weights.length; h++) {
      deflection[i] += bundle.weights[h] * bundle.deflection[h * n + i];
      transmission[i] += bundle.weights[h] * bundle.transmission[h * n + i];
    }
    const x = position[i];
    const own = deflection[i] * scale.perRadian;
    const up = own + x * Math.tan(scale.levelSlitTilt);
    const bent = x + map.smile * own * own;
    column[i] = camera.columns / 2 + (bent * cos - up * sin) / camera.pixel;
    row[i] = camera.rows / 2 - (bent * sin + up * cos) / camera.pixel;
  }
  return { wavelength: bundle.wavelengths, deflection, transmission, column, row };
}
