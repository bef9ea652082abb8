/**
 * The frames of one day, drawn by independent_renderer.py. Handed over are numbers: the nominal bench's columns, sizes of
 * slits' images and scale, each changed by what the day brought; published lines; how a picture comes of them is its own affair.
 */
import { metalOf, stateOf } from "../../../src/setup/index.ts";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { imageScale, spectralMap } from "../../../src/path/index.ts";
import { averageFrames, decodePng, type Frame } from "../../../src/picture/index.ts";
import type { DiagnosisInput } from "../../../src/reading/index.ts";
import {
  CLASSICAL_ELECTRON_RADIUS,
  linesOf,
  meanMassOf,
  SPEED_OF_LIGHT,
} from "../../../src/reference/index.ts";
import { type CaseOfDay, type Day, type Dice, dice } from "./days.ts";
import { changes, LAMP, type Nominal, OTHER_LAMP, patchList } from "./draw.ts";

const RENDERER = fileURLToPath(new URL("../independent_renderer.py", import.meta.url));

interface Job {
  readonly file: string;
  readonly [field: string]: unknown;
}

/** Draws many days with one start of Python; null where Python with scipy is not to be had. */
export function drawOutside(nominal: Nominal, days: readonly CaseOfDay[]): DiagnosisInput[] | null {
  const folder = mkdtempSync(join(tmpdir(), "crossprism-outside-"));
  try {
    const plans = days.map((day, k) => planOf(nominal, day, join(folder, String(k))));
    const jobs = join(folder, "jobs.json");
    writeFileSync(jobs, JSON.stringify({ frames: plans.flatMap((p) => [...p.hot, ...p.others]) }));
    const ran = spawnSync("python3", [RENDERER, jobs], { encoding: "utf8" });
    if (ran.error !== undefined || ran.status === 127 || /ModuleNotFoundError/.test(ran.stderr)) return null;
    if (ran.status !== 0) throw new Error(ran.stderr);
    return plans.map((plan): DiagnosisInput => {
      const hot = plan.hot.map((job) => load(job.file));
      const [cold, lamp] = plan.others.map((job) => load(job.file));
      return {
        setup: nominal.setup,
        hot: hot.length > 1 ? averageFrames(hot, 1).frame : hot[0],
        ...(hot.length > 1 ? { frames: hot } : {}),
        cold,
        ...(lamp === undefined ? {} : { lamp, lampLines: LAMP }),
      };
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function load(path: string): Frame {
  return decodePng(readFileSync(path), path);
}

function planOf(
  nominal: Nominal,
  { day, seed }: CaseOfDay,
  stem: string,
): { readonly hot: Job[]; readonly others: Job[] } {
  const d = dice(seed + 9_000_000);
  const { camera } = nominal.setup;
  const bench = benchOf(nominal, day, d);
  const shots = day.frames === null ? [{ light: 0, sway: 0, size: 0 }] : changes(day.frames, d);
  const patches = patchList(day.patches, d).map(({ middle, width, loss }) => [
    middle * camera.columns,
    width * camera.columns,
    loss,
  ]);
  const hot = shots.map(
    (shot, k): Job => ({
      ...bench,
      kind: "hot",
      seed: seed * 20 + k,
      file: `${stem}-hot${k}.png`,
      dim: day.dim * Math.exp(shot.light),
      offset: day.drift + shot.sway,
      shimmer: 1 + shot.size,
      patches: day.patches === 0 ? [] : patches,
    }),
  );
  const lampLines = (day.foreign ? OTHER_LAMP : LAMP).map((wavelength) => ({ wavelength, height: 0.8 }));
  const others: Job[] = [{ ...bench, kind: "cold", seed: seed * 20 + 10, file: `${stem}-cold.png` }];
  if (day.lamp)
    others.push({ ...bench, kind: "lamp", lamp: lampLines, seed: seed * 20 + 11, file: `${stem}-lamp.png` });
  return { hot, others };
}

function benchOf(nominal: Nominal, day: Day, d: Dice): Record<string, unknown> {
  const { setup, vapour } = nominal;
  const { path, camera } = setup;
  const map = spectralMap(path);
  const optics = imageScale(path, map);
  const { pixel, columns } = camera;
  const disperser = path.disperser;
  if (disperser.kind !== "grating") throw new Error("the outside renderer knows a grating only");
  // The grating's own equation, expanded about the middle: λ = d·sin(β + x/f).
  const spacing = 1 / disperser.groovesPerMetre;
  const beta = Math.asin(path.centreWavelength / spacing);
  const step = pixel / path.cameraFocalLength;
  const perPixel = spacing * Math.cos(beta) * step;
  const middle = path.centreWavelength + day.place * columns * perPixel;
  const mean = day.columns - 0.2 * day.weak;
  const apart = (day.apart + day.weak) / 2;
  const m = (vapour.columns.columnDensity.length - 1) / 2;
  const column = vapour.middle.columnDensity * Math.exp(mean + apart);
  const gradients = vapour.columns.columnGradient;
  const lines = linesOf(metalOf(setup, "the campaign").element).filter(
    (l) => Math.abs(l.wavelength - path.centreWavelength) < 5e-9,
  );
  const selfOf = (line: (typeof lines)[number]): number =>
    (CLASSICAL_ELECTRON_RADIUS *
      SPEED_OF_LIGHT *
      line.wavelength *
      line.oscillatorStrength *
      Math.sqrt(line.gLower / line.gUpper)) /
    Math.PI;
  const gasWidth = metalOf(setup, "the campaign").overrides.gasWidth ?? 0;
  const lorentz =
    lines[0].upperDecayRate / (2 * Math.PI) +
    selfOf(lines[0]) * stateOf(vapour, "the campaign").density +
    gasWidth;
  const gas = gasWidth + lorentz * (Math.exp(day.wide) - 1);
  const [shift, squeeze] = day.foreign
    ? [d.uniform(0.9e-9, 1.5e-9) * d.sign(), d.uniform(0.55, 0.8)]
    : [0, 1];
  const spread = Math.sqrt(optics.plumbSlitWidth ** 2 / 12 + optics.blurWidth ** 2);
  const slit = Math.sqrt(Math.max(12 * ((spread * day.lampWidth) ** 2 - optics.blurWidth ** 2), 1e-14));
  const softer = (day.blur ** 2 - 1) * optics.blurHeight ** 2;
  return {
    columns,
    rows: camera.rows,
    scale: [middle, perPixel, (-spacing * Math.sin(beta) * step ** 2) / 2],
    smile: (Math.tan(beta) * step) / 2,
    pixels_per_radian: (optics.perRadian / pixel) * (day.inverted ? -1 : 1),
    lines: lines.map((line) => ({
      wavelength: path.centreWavelength + (line.wavelength - path.centreWavelength) * squeeze + shift,
      f: line.oscillatorStrength,
      natural: line.upperDecayRate / (2 * Math.PI),
      self: selfOf(line),
      gas,
      mass: meanMassOf(metalOf(setup, "the campaign").element),
    })),
    column: day.empty ? 0 : column,
    gradient: day.empty ? 0 : vapour.middle.columnGradient * Math.exp(mean - apart),
    change: (gradients[gradients.length - 1] / gradients[0] - 1) / 2,
    length: vapour.columns.columnDensity[m] / vapour.columns.effectiveDensity[m],
    temperature: stateOf(vapour, "the campaign").temperature,
    beam: path.beamSize,
    level_height: (optics.levelSlitHeight / pixel) * day.levelSlit,
    plumb_width: slit / pixel,
    sigma_x: Math.sqrt(Math.max(optics.blurWidth ** 2 + softer, 1e-14)) / pixel,
    sigma_y: (optics.blurHeight * day.blur) / pixel,
    roll: day.roll,
    slit_tilt: day.levelTilt,
    plumb_tilt: day.plumbTilt,
    electrons: camera.rate * camera.exposure * day.exposure,
    full_well: camera.fullWell,
    read_noise: camera.readNoise,
    black: camera.blackLevel,
    stray: day.stray,
    mirrored: day.mirrored,
    colour_slope: 0.01,
  };
}
