/** The picture as light, before any camera noise: curves of the beam laid down on the sensor with every blur. */
import type { CurveBundle, ImageScale, SpectralMap } from "../path/api.ts";
import { coloursPassed } from "../path/bench-losses.ts";
import { sourcePhotons } from "../path/source.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { CameraInput } from "./api.ts";
import { heightKernel, leaningTaps, LONGEST, placesPerColumn, widthTaps } from "./blur.ts";
import { type Extent, fold, TILE } from "./fold.ts";
import { foldLeaning, leaningLengths, leaningRoom } from "./fold-leaning.ts";
import { geometryOf, type Leaning, leaningOf } from "./geometry.ts";
import { lay, SLAB_ROWS } from "./lay.ts";
import {
  createWorkspace,
  reserve,
  type Spread,
  viewLengths,
  type Stretch,
  type Workspace,
} from "./workspace.ts";

/** The part of a camera that the light needs. */
export type Sensor = Pick<CameraInput, "pixel" | "columns" | "rows">;

export interface LightOptions {
  /** light of the source per unit of vacuum wavelength at bundle.wavelengths, any unit; default: photons of scale.source */
  readonly spectrum?: Float64Array;
  /** memory to use again; default: fresh */
  readonly workspace?: Workspace;
  /** where to write, length rows·columns; "workspace": leave it in the workspace, where it stands until that is used again; default: fresh */
  readonly into?: Float32Array | "workspace";
}

/**
 * Picture as relative light: 1 = middle of the cold line where it is brightest.
 *
 * Every stretch between neighbouring wavelengths, at each beam height, lays down weight · transmission · spectrum · dλ over the columns it
 * crosses, spread along the height by slit image ⊗ pixel ⊗ blur; columns are then folded with the plumb slit's image and blur. Stretches
 * that are long, along the wavelength or from height to height, are parted so that steep branches show no beads.
 * A turned camera turns the slits' images with the curve (see `leaningOf`). Small roll only (a few degrees).
 * Cost: points of the bundle × height of the slit's image, plus lit pixels × width of the plumb slit's image.
 * @returns Float32Array, rows × columns, row-major, with stray light added everywhere
 * @throws Refusal where the sensor lies outside the reach of the disperser, or arrays do not agree
 */
export function renderLight(
  bundle: CurveBundle,
  map: SpectralMap,
  scale: ImageScale,
  sensor: Sensor,
  options: LightOptions = {},
): Float32Array {
  const space = options.workspace ?? sharedWorkspace();
  const { pixel } = sensor;
  const count = sensor.columns * sensor.rows;
  const { into } = options;
  if (typeof into === "object" && into.length !== count)
    throw new Error(`renderLight: into has ${into.length} samples, not ${count}`);
  const geometry = geometryOf(scale, map.smile, sensor);
  const spread = spreadOf(space, scale, pixel, geometry.sine !== 0);
  const leaning = spread.leaning && leaningOf(geometry, spread.height, spread.width);
  const extent = extentOf(spread, sensor, leaning);
  prepare(space, spread, extent, bundle);
  const spectrum = options.spectrum ?? spectrumOf(scale, bundle.wavelengths);
  measure(bundle, map, sensor, spectrum, space);
  const perRadian = scale.perRadian / pixel;
  if (spread.leaning === undefined || leaning === undefined) {
    lay(bundle, space, geometry, perRadian, spread.kernel, extent);
    space.litStretch = litStretch(space, extent);
    fold(space, extent, scale.stray);
  } else {
    const { position } = space.arrays;
    for (let i = 0; i < bundle.wavelengths.length; i++) position[i] *= leaning.along;
    lay(bundle, space, leaning.geometry, perRadian * leaning.up, spread.kernel, extent);
    space.litStretch = litStretch(space, extent);
    foldLeaning(space, extent, scale.stray, spread.leaning, leaning);
  }
  const made = space.arrays.picture.subarray(0, count);
  if (into === "workspace") return made;
  if (into === undefined) return made.slice();
  into.set(made);
  return into;
}

/** From the first row that light was laid on to the last. */
function litStretch({ arrays }: Workspace, { width, pad, rows, columns }: Extent): Stretch {
  let [first, end] = [rows, 0];
  for (let c = 0; c < width; c++) {
    first = Math.min(first, arrays.low[c] - pad);
    end = Math.max(end, arrays.high[c] - pad);
  }
  if (end <= first) return { first: 0, end: 0 };
  // In fours, as the kernels go.
  return {
    first: (Math.max(0, first) * columns) & ~3,
    end: Math.min(rows * columns, (Math.min(rows, end) * columns + 3) & ~3),
  };
}

/** Photons of the lamp, less what the bench takes of each colour where the picture shall show it. */
function spectrumOf({ source, losses }: ImageScale, wavelengths: Float64Array): Float64Array | undefined {
  const lamp = source === undefined ? undefined : sourcePhotons(source, wavelengths);
  if (losses === undefined) return lamp;
  const passed = coloursPassed(losses, wavelengths);
  return lamp === undefined ? passed : lamp.map((light, i) => light * passed[i]);
}

let shared: Workspace | undefined;

/** The workspace of those who bring none. */
function sharedWorkspace(): Workspace {
  shared ??= createWorkspace();
  return shared;
}

function spreadOf(space: Workspace, scale: ImageScale, pixel: number, turned: boolean): Spread {
  const height = [scale.levelSlitHeight / pixel, scale.blurHeight / pixel] as const;
  const width = [scale.plumbSlitWidth / pixel, scale.blurWidth / pixel] as const;
  const same = (a: readonly number[] | undefined, b: readonly number[]): boolean =>
    a?.[0] === b[0] && a[1] === b[1];
  const was = space.spread;
  const sameHeight = same(was?.height, height);
  const sameWidth = same(was?.width, width);
  if (was !== undefined && sameHeight && sameWidth && turned === (was.leaning !== undefined)) return was;
  const sub = placesPerColumn(...width);
  return {
    height,
    width,
    sub,
    kernel: was !== undefined && sameHeight ? was.kernel : heightKernel(...height),
    taps: was !== undefined && sameWidth ? was.taps : Float32Array.from(widthTaps(...width, sub)),
    leaning: turned ? leaningTaps(...width, sub) : undefined,
    placed: undefined,
  };
}

function extentOf(spread: Spread, sensor: Sensor, leaning: Leaning | undefined): Extent {
  const { columns, rows } = sensor;
  const { sub } = spread;
  const reach = spread.taps.length - 1;
  const margin = reach + 1 + sub + (leaning === undefined ? 0 : 1 + leaningRoom(rows, leaning.shear, sub));
  const pad = 2 * spread.kernel.half + LONGEST + 4;
  return {
    columns,
    rows,
    sub,
    reach,
    margin,
    pad,
    width: (columns - 1) * sub + 1 + 2 * margin,
    stride: rows + 2 * pad,
  };
}

/** Room for the picture, the tables in their place, and no place touched yet. */
function prepare(space: Workspace, spread: Spread, extent: Extent, bundle: CurveBundle): void {
  const { columns, rows, width, stride } = extent;
  const { sums } = spread.kernel;
  const copied = space.kernel === undefined ? 0 : 1;
  const arrays = reserve(space, {
    sums: sums.length,
    taps: spread.taps.length,
    gathered: width * stride,
    low: width,
    high: width,
    from: columns,
    to: columns,
    column: Math.max(stride, TILE * TILE),
    position: bundle.wavelengths.length,
    share: bundle.wavelengths.length,
    weights: copied * bundle.weights.length,
    deflection: copied * bundle.deflection.length,
    transmission: copied * bundle.transmission.length,
    slab: copied * SLAB_ROWS * bundle.weights.length,
    ...viewLengths(columns, rows),
    ...(spread.leaning && leaningLengths(columns, rows, spread.leaning)),
  });
  if (spread.placed !== arrays) {
    arrays.sums.set(sums);
    arrays.taps.set(spread.taps);
    space.spread = { ...spread, placed: arrays };
  }
  arrays.low.fill(stride, 0, width);
  arrays.high.fill(-1, 0, width);
}

/** Positions in pixels from the middle, and each interval's light relative to a full column of the brightest colour on the sensor. */
function measure(
  bundle: CurveBundle,
  map: SpectralMap,
  sensor: Sensor,
  spectrum: Float64Array | undefined,
  space: Workspace,
): void {
  const { wavelengths } = bundle;
  const n = wavelengths.length;
  if (spectrum !== undefined && spectrum.length !== n) {
    throw new Refusal({
      code: "length-mismatch",
      field: "spectrum",
      received: `${spectrum.length} values`,
      expected: `${n} values, one per wavelength`,
    });
  }
  const { position, share } = space.arrays;
  map.positions(wavelengths, position);
  for (let i = 0; i < n; i++) position[i] /= sensor.pixel;
  const half = sensor.columns / 2;
  let brightest = 0;
  for (let i = 0; i + 1 < n; i++) {
    const light = spectrum === undefined ? 1 : (spectrum[i] + spectrum[i + 1]) / 2;
    const amount = light * (wavelengths[i + 1] - wavelengths[i]);
    const span = position[i + 1] - position[i];
    share[i] = amount;
    if (span > 0 && position[i + 1] > -half && position[i] < half)
      brightest = Math.max(brightest, amount / span);
  }
  if (brightest === 0) {
    throw new Refusal({
      code: "no-light-on-sensor",
      field: "path.centreWavelength",
      received: "a source and a stretch of spectrum without light on the sensor",
      expected: "a centre wavelength that the source emits and the disperser passes",
    });
  }
  for (let i = 0; i + 1 < n; i++) share[i] /= brightest;
}
