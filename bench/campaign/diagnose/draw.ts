/** The frames of one day, drawn by the program's own forecast. */
import { averageFrames, expose, type Frame, renderLamp, renderLight } from "../../../src/picture/index.ts";
import { imageScale, spectralMap } from "../../../src/path/index.ts";
import type { DiagnosisInput } from "../../../src/reading/index.ts";
import {
  coldCurve,
  type CurveStage,
  curveStage,
  type Setup,
  type MetalStage,
  metalStage,
  type VapourStage,
  vapourStage,
} from "../../../src/setup/index.ts";
import { COARSE_GRID } from "../../../src/vessel/index.ts";
import { type CaseOfDay, type Day, type Dice, dice } from "./days.ts";

/** Lamps: invented sets of lines in view, m. */
export const LAMP = [766.05e-9, 767.75e-9, 769.5e-9, 770.6e-9];
export const OTHER_LAMP = [765.6e-9, 766.35e-9, 768.2e-9, 771.1e-9];
export const FRAMES = 6;
/** Forecast and bench on the same coarse grid, fifteen times quicker. */
const GRID = { grid: COARSE_GRID };
/** Share of the nominal bench's Lorentz width that grows with its gas. */
const GAS_SHARE = 0.66;

export interface Nominal {
  readonly setup: Setup;
  readonly vapour: VapourStage;
  readonly bottom: Answers;
  readonly top: Answers;
}

/** How ln of the columns answers to the wall: sampled once, read by straight lines. */
interface Answers {
  readonly step: number;
  /** mean of the two logarithms, and density's less gradient's, per step of the wall from `first` on */
  readonly mean: readonly number[];
  readonly apart: readonly number[];
  readonly first: number;
}

export function nominalOf(setup: Setup): Nominal {
  const vapour = vapourStage(setup, GRID);
  const answers = (first: number, last: number, step: number, at: (shift: number) => Setup): Answers => {
    const mean: number[] = [];
    const apart: number[] = [];
    for (let shift = first; shift <= last; shift += step) {
      const { middle } = vapourStage(at(shift), GRID);
      const density = Math.log(middle.columnDensity / vapour.middle.columnDensity);
      const gradient = Math.log(middle.columnGradient / vapour.middle.columnGradient);
      mean.push((density + gradient) / 2);
      apart.push(density - gradient);
    }
    return { first, step, mean, apart };
  };
  return {
    setup,
    vapour,
    bottom: answers(-80, 40, 20, (shift) => warmer(setup, shift, 0)),
    top: answers(0, 84, 12, (shift) => warmer(setup, 0, shift)),
  };
}

function warmer(setup: Setup, bottom: number, top: number): Setup {
  const { wall } = setup.vessel;
  return {
    ...setup,
    vessel: { ...setup.vessel, wall: { ...wall, bottom: wall.bottom + bottom, top: wall.top + top } },
  };
}

/** Where a sampled answer, growing, takes a value. */
function solved({ first, step }: Answers, values: readonly number[], wanted: number): number {
  let k = 0;
  while (k < values.length - 2 && values[k + 1] < wanted) k++;
  return first + step * (k + (wanted - values[k]) / (values[k + 1] - values[k]));
}

/** The vapour of a day: wall temperatures for density and layering, the gas as it is, the ordinary scatter of their ratio by scaling. */
function heated(nominal: Nominal, day: Day): MetalStage {
  const bottom = solved(nominal.bottom, nominal.bottom.mean, day.empty ? -2 : day.columns);
  const top = day.weak === 0 ? 0 : solved(nominal.top, nominal.top.apart, day.weak);
  const wall = warmer(nominal.setup, bottom, top);
  const { vessel } = wall;
  const gas = 1 + (Math.exp(day.wide) - 1) / GAS_SHARE;
  const vapour = metalStage({ ...wall, vessel: { ...vessel, gasPressure: vessel.gasPressure * gas } }, GRID);
  const [density, gradient] = [Math.exp(day.apart / 2), Math.exp(-day.apart / 2)];
  const scaled = (values: Float64Array, by: number): Float64Array => values.map((v) => v * by);
  const { columns, middle, state } = vapour;
  return {
    ...vapour,
    columns: {
      ...columns,
      columnDensity: scaled(columns.columnDensity, density),
      effectiveDensity: scaled(columns.effectiveDensity, density),
      columnGradient: scaled(columns.columnGradient, gradient),
    },
    middle: {
      ...middle,
      columnDensity: middle.columnDensity * density,
      columnGradient: middle.columnGradient * gradient,
    },
    state: { ...state, density: state.density * density },
  };
}

function benchOf(nominal: Nominal, day: Day, d: Dice): Setup {
  const { setup } = nominal;
  const map = spectralMap(setup.path);
  const optics = imageScale(setup.path, map);
  const spread = Math.sqrt(optics.plumbSlitWidth ** 2 / 12 + optics.blurWidth ** 2);
  const blurHeight = optics.blurHeight * day.blur;
  const extra = blurHeight ** 2 - (optics.blurHeight ** 2 - setup.path.defocus ** 2);
  const defocus = Math.sqrt(Math.max(extra, 0));
  const wanted = 12 * ((spread * day.lampWidth) ** 2 - optics.blurWidth ** 2);
  const plumbSlit = setup.path.plumbSlit * (Math.sqrt(Math.max(wanted, 1e-14)) / optics.plumbSlitWidth);
  const width = setup.camera.columns * setup.camera.pixel;
  const centreWavelength = map.wavelengthAt(day.place * width) + (day.foreign ? d.uniform(-1, 1) * 1e-10 : 0);
  return {
    ...setup,
    camera: { ...setup.camera, exposure: setup.camera.exposure * day.exposure },
    path: {
      ...setup.path,
      centreWavelength,
      defocus,
      plumbSlit,
      levelSlit: setup.path.levelSlit * day.levelSlit,
      cameraRoll: day.roll + day.plumbTilt,
      levelSlitTilt: day.levelTilt - day.plumbTilt,
      stray: day.stray,
      inverted: day.inverted,
    },
  };
}

/** Other lines than the setup's: the same vapour at other places. */
function foreignCurve(curve: CurveStage, d: Dice): CurveStage {
  const shift = d.uniform(0.9e-9, 1.5e-9) * d.sign();
  const squeeze = d.uniform(0.55, 0.8);
  const { bundle } = curve;
  const middle = bundle.wavelengths[bundle.wavelengths.length >> 1];
  const at = (values: Float64Array, heights: number): Float64Array => {
    const n = bundle.wavelengths.length;
    const out = new Float64Array(values.length);
    for (let h = 0; h < heights; h++) {
      let k = 0;
      for (let i = 0; i < n; i++) {
        const from = middle + (bundle.wavelengths[i] - middle - shift) / squeeze;
        while (k < n - 2 && bundle.wavelengths[k + 1] < from) k++;
        while (k > 0 && bundle.wavelengths[k] > from) k--;
        const t = Math.min(
          1,
          Math.max(0, (from - bundle.wavelengths[k]) / (bundle.wavelengths[k + 1] - bundle.wavelengths[k])),
        );
        out[h * n + i] = values[h * n + k] * (1 - t) + values[h * n + k + 1] * t;
      }
    }
    return out;
  };
  const heights = bundle.weights.length;
  return {
    ...curve,
    bundle: {
      ...bundle,
      deflection: at(bundle.deflection, heights),
      transmission: at(bundle.transmission, heights),
    },
  };
}

export function drawDay(nominal: Nominal, { day, seed }: CaseOfDay): DiagnosisInput {
  const d = dice(seed + 7_000_000);
  const bench = benchOf(nominal, day, d);
  const vapour = heated(nominal, day);
  const own = curveStage(bench, vapour);
  const curve = day.foreign ? foreignCurve(own, d) : own;
  const cold = coldCurve(curve);
  const { camera } = bench;
  const patches = patchesOf(day.patches, d);
  const hotLight = (light: number, sway: number, size: number): Float32Array => {
    const from = day.empty ? cold.bundle : curve.bundle;
    const shift = ((day.drift + sway) * camera.pixel) / curve.scale.perRadian;
    const bundle = { ...from, deflection: from.deflection.map((v) => v * size + shift) };
    const out = renderLight(bundle, curve.map, curve.scale, camera);
    const stray = curve.scale.stray;
    for (let r = 0, i = 0; r < camera.rows; r++)
      for (let c = 0; c < camera.columns; c++, i++)
        out[i] = stray + (out[i] - stray) * day.dim * light * patches(c / camera.columns);
    return out;
  };
  const turned = (frame: Frame): Frame => (day.mirrored ? mirror(frame) : frame);
  const shots = day.frames === null ? null : changes(day.frames, d);
  const frames = shots?.map((s, k) =>
    turned(expose(hotLight(Math.exp(s.light), s.sway, 1 + s.size), camera, seed * 20 + k)),
  );
  const lampLines = (day.foreign ? OTHER_LAMP : LAMP).map((wavelength) => ({ wavelength, intensity: 0.8 }));
  return {
    setup: nominal.setup,
    hot:
      frames === undefined
        ? turned(expose(hotLight(1, 0, 1), camera, seed * 20))
        : averageFrames(frames, 1).frame,
    cold: turned(expose(renderLight(cold.bundle, cold.map, cold.scale, camera), camera, seed * 20 + 10)),
    ...(frames === undefined ? {} : { frames }),
    ...(day.lamp
      ? {
          lamp: turned(expose(renderLamp(lampLines, curve.map, curve.scale, camera), camera, seed * 20 + 11)),
          lampLines: LAMP,
        }
      : {}),
  };
}

/** Light, sway and size of each frame, with exactly the wanted scatter. */
export function changes(
  wanted: NonNullable<Day["frames"]>,
  d: Dice,
): { readonly light: number; readonly sway: number; readonly size: number }[] {
  const draw = (scatter: number): number[] => {
    const raw = Array.from({ length: FRAMES }, () => d.normal());
    const mean = raw.reduce((a, b) => a + b, 0) / FRAMES;
    const own = Math.sqrt(raw.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (FRAMES - 1));
    return raw.map((v) => ((v - mean) / own) * scatter);
  };
  const light = draw(wanted.flicker);
  const sway = draw(wanted.sway);
  const size = draw(wanted.shimmer);
  return light.map((v, k) => ({ light: v, sway: sway[k], size: size[k] }));
}

/** Smoke: light left along the spectrum, uneven by about the wanted share. */
function patchesOf(wanted: number, d: Dice): (at: number) => number {
  if (wanted === 0) return () => 1;
  const parts = patchList(wanted, d);
  return (at) =>
    parts.reduce((left, p) => left * (1 - p.loss * Math.exp(-0.5 * ((at - p.middle) / p.width) ** 2)), 1);
}

export function patchList(wanted: number, d: Dice): { middle: number; width: number; loss: number }[] {
  return Array.from({ length: 7 }, (_, k) => ({
    middle: (k + 0.5 + d.uniform(-0.3, 0.3)) / 7,
    width: d.uniform(0.02, 0.045),
    loss: Math.min(0.9, wanted * d.uniform(2.7, 3.7)),
  }));
}

function mirror(frame: Frame): Frame {
  const { columns, rows } = frame;
  const samples = frame.samples.slice();
  for (let r = 0; r < rows; r++) samples.subarray(r * columns, (r + 1) * columns).reverse();
  return { ...frame, samples };
}
