/** Cases for the independent renderer: benches drawn at random, pictures by `independent_renderer.py`, setups to read them with. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { lineWidths } from "../../../src/medium/index.ts";
import { decodePng, mosaicFactors } from "../../../src/picture/index.ts";
import {
  CLASSICAL_ELECTRON_RADIUS,
  linesOf,
  meanMassOf,
  SPEED_OF_LIGHT,
} from "../../../src/reference/index.ts";
import { parseSetup } from "../../../src/setup/index.ts";
import {
  coded,
  type Coding,
  codingFor,
  Dice,
  type DrawnCase,
  filtersOf,
  FINENESS,
  lampOf,
  type Size,
  type Trouble,
  TROUBLES,
} from "./cases.ts";

const SCRIPT = fileURLToPath(new URL("../independent_renderer.py", import.meta.url));
const COLUMNS = 320;
const ROWS = 220;
const PIXEL = 8e-6;

/** Element, wavelength in the middle (m) and span of the picture (m). */
const VIEWS: readonly [string, number, number][] = [
  ["K", 768.4e-9, 14e-9],
  ["Rb", 787.6e-9, 34e-9],
  ["Na", 589.45e-9, 3.2e-9],
  ["Cs", 457.5e-9, 9e-9],
  ["Sr", 460.9e-9, 8e-9],
  ["Ba", 553.7e-9, 8e-9],
  ["Ca", 422.8e-9, 7e-9],
];

interface Plan extends Omit<DrawnCase, "hot" | "cold" | "lamp"> {
  readonly frames: Readonly<Record<string, unknown>>[];
  readonly coding: Coding;
}

/** True where the renderer's own language and libraries are installed. */
export function canDrawOutside(): boolean {
  return spawnSync("python3", ["-c", "import numpy, scipy"]).status === 0;
}

/** Draws the cases of these numbers; the pictures of ten at a time go through one run of the script. */
export async function* outsideCases(
  seed: number,
  numbers: readonly number[],
  size: Size = "small",
): AsyncGenerator<DrawnCase> {
  for (let first = 0; first < numbers.length; first += 10) {
    const plans = numbers.slice(first, first + 10).map((number) => plan(seed, number, size));
    const folder = mkdtempSync(join(tmpdir(), "crossprism-campaign-"));
    try {
      const frames = plans.flatMap((p, k) =>
        p.frames.map((frame) => ({
          ...frame,
          file: join(folder, `${k}-${(frame as { kind: string }).kind}.png`),
        })),
      );
      writeFileSync(join(folder, "jobs.json"), JSON.stringify({ frames }));
      const done = spawnSync("python3", [SCRIPT, join(folder, "jobs.json")], { encoding: "utf8" });
      if (done.status !== 0) throw new Error(`the independent renderer failed: ${done.stderr}`);
      for (let k = 0; k < plans.length; k++) {
        const { frames: list, coding, ...known } = plans[k];
        const raw = (kind: string) => decodePng(readFileSync(join(folder, `${k}-${kind}.png`)), kind);
        const factors = coding.mosaic ? mosaicFactors(raw("hot"), "hot") : null;
        const open = async (kind: string) => coded(raw(kind), coding, factors);
        const has = (kind: string): boolean => list.some((f) => (f as { kind: string }).kind === kind);
        yield {
          ...known,
          hot: await open("hot"),
          ...(has("cold") ? { cold: await open("cold") } : {}),
          ...(has("lamp") ? { lamp: raw("lamp") } : {}),
        };
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  }
}

function plan(seed: number, number: number, size: Size): Plan {
  // Slits, sharp focus and light are in pixels as in the practice pictures; everything else grows with the picture.
  const fine = FINENESS[size];
  const columns = Math.round(COLUMNS * fine);
  const pixel = PIXEL / fine;
  const dice = new Dice(seed, number, "independent");
  const trouble: Trouble = TROUBLES[number % TROUBLES.length];
  const [element, middle, span] = dice.of(VIEWS);
  const perPixel = span / columns;
  const half = span / 2;
  const lines = linesOf(element).filter((line) => Math.abs(line.wavelength - middle) < 0.8 * half);
  const length = dice.between(0.12, 0.35);
  const temperature = dice.between(420, 760);
  const gas = dice.decades(2e7, 8e8);
  const state = { element, density: 1, temperature, structure: "merged" as const, overrides: {} };
  const strongest = lines.reduce((a, b) => (a.oscillatorStrength > b.oscillatorStrength ? a : b));
  const self = (line: (typeof lines)[number]): number => lineWidths(line, state).self / (2 * Math.PI);
  const natural = (line: (typeof lines)[number]): number => lineWidths(line, state).natural / (2 * Math.PI);
  // Column density whose half-gap is so many pixels: Δω² ln 2 = π r_e c f C (Γ + 2π β C/L).
  const gap = dice.between(3, 8) * fine * perPixel;
  const omega = (2 * Math.PI * SPEED_OF_LIGHT * gap) / strongest.wavelength ** 2;
  const strength = Math.PI * CLASSICAL_ELECTRON_RADIUS * SPEED_OF_LIGHT * strongest.oscillatorStrength;
  const wanted = (omega ** 2 * Math.LN2) / strength;
  const thin = 2 * Math.PI * (natural(strongest) + gas);
  const thick = (2 * Math.PI * self(strongest)) / length;
  const column = (2 * wanted) / (thin + Math.sqrt(thin * thin + 4 * thick * wanted));
  // Gradient that bends the light by so many pixels two half-gaps from the line: κ = r_e f λ³/(4π Δλ).
  const focal = 0.5;
  const inverted = dice.unit() < 0.2;
  const pixelsPerRadian = ((inverted ? -1 : 1) * focal) / pixel;
  const kappa =
    (CLASSICAL_ELECTRON_RADIUS * strongest.oscillatorStrength * strongest.wavelength ** 3) /
    (4 * Math.PI * 2 * gap);
  const gradient = (-dice.between(10, 32) * fine) / (Math.abs(pixelsPerRadian) * kappa);
  const change = -dice.between(0.02, 0.15);
  // Small enough that the vapour does not run out within the beam.
  const beam = Math.min(4e-3, (0.5 * column) / Math.abs(gradient));
  const rolled = trouble === "rolled and curved" || dice.unit() < 0.3;
  const roll = rolled ? dice.between(-0.018, 0.018) : 0;
  const slitTilt = rolled ? dice.between(-0.004, 0.004) : 0;
  const smile = rolled ? dice.between(-3e-5, 3e-5) / fine : 0;
  const plumbTilt = rolled ? dice.between(-0.004, 0.004) : 0;
  const curl = dice.unit() < 0.5 ? dice.between(-2e-5, 2e-5) / fine : 0;
  const coding = codingFor(trouble, dice);
  const linear = trouble === "8 bits, linear";
  const eight = coding.jpeg !== null || coding.film !== null || linear || dice.unit() < 0.1;
  const electrons = trouble === "JPEG, low light" ? dice.decades(300, 2000) : dice.decades(3000, 20000);
  const fullWell = electrons * (trouble === "overexposed" ? dice.between(0.75, 0.95) : dice.between(1.25, 2));
  const blur = trouble === "out of focus" ? dice.between(2, 4) * fine : dice.between(0.8, 1.4);
  const levelHeight = dice.between(7, 13);
  const plumbWidth = dice.between(1.5, 3);
  const smoke = trouble === "smoke";
  const patches = smoke
    ? Array.from({ length: 1 + dice.whole(3) }, () => [
        dice.between(0.05, 0.95) * columns,
        dice.between(3, 14) * fine,
        dice.between(0.15, 0.7),
      ])
    : [];
  const scale = [middle, perPixel, curl * perPixel];
  const lamp = trouble === "no lamp" ? [] : lampOf(dice, middle - 0.9 * half, middle + 0.9 * half);
  const gamma = eight && !linear && !coding.mosaic ? 2.2 : 1;
  const mirror = trouble === "mirrored";
  const bench = {
    columns,
    rows: Math.round(ROWS * fine),
    margin: Math.round(24 * fine),
    scale,
    pixels_per_radian: pixelsPerRadian,
    // Those out of view too: the wings of caesium's strong red lines tilt its blue picture by 0.03°.
    lines: linesOf(element).map((line) => ({
      wavelength: line.wavelength,
      f: line.oscillatorStrength,
      natural: natural(line),
      self: self(line),
      gas,
      mass: meanMassOf(element),
    })),
    length,
    temperature,
    beam,
    level_height: levelHeight,
    plumb_width: plumbWidth,
    sigma_x: blur,
    sigma_y: blur,
    roll,
    slit_tilt: slitTilt,
    plumb_tilt: plumbTilt,
    smile,
    colour_slope: dice.between(-0.3, 0.3),
    electrons,
    full_well: fullWell,
    read_noise: 3,
    // Zero to two counts of a linear file: the noise of the dark is cut off, or hides within a count.
    black: linear ? dice.between(0, 0.008) : eight ? 0.01 : 0.02,
    filters: coding.mosaic ? filtersOf(dice) : [1, 1, 1],
    bits: eight ? 8 : 16,
    gamma,
    mirrored: mirror,
  };
  const frames: Record<string, unknown>[] = [
    {
      ...bench,
      kind: "hot",
      seed: 3 * number + 1,
      column,
      gradient,
      change,
      offset: dice.between(-4, 4) * fine,
      offset_change: dice.between(-0.2, 0.2) * fine,
      dim: smoke ? dice.between(0.6, 1) : 1,
      patches,
    },
  ];
  if (trouble !== "no cold frame") frames.push({ ...bench, kind: "cold", seed: 3 * number + 2 });
  if (lamp.length > 0)
    frames.push({
      ...bench,
      kind: "lamp",
      filters: [1, 1, 1],
      seed: 3 * number + 3,
      lamp,
      electrons: 8000,
      full_well: 12000,
      bits: 16,
      gamma: 1,
    });
  const mean = temperature;
  const pair = lines.length >= 2;
  const [a, b] = [...lines].sort((x, y) => y.oscillatorStrength - x.oscillatorStrength).slice(0, 2);
  const [short, long] = pair ? [a, b].sort((x, y) => x.wavelength - y.wavelength) : [a, a];
  const setup = parseSetup({
    version: 1,
    title: `Campaign ${number}`,
    medium: { element, structure: "merged", gasWidth: `${gas} Hz` },
    vessel: {
      bore: "40 mm",
      heatedLength: `${length} m`,
      length: `${length + 0.3} m`,
      bottom: `${mean + 60} K`,
      top: `${mean - 60} K`,
      ends: `${mean - 100} K`,
      gas: "Ar",
      gasPressure: "500 Pa",
    },
    path: {
      source: { kind: "flat" },
      levelSlit: `${levelHeight * pixel} m`,
      collimatorFocalLength: `${focal} m`,
      focalLength: `${focal} m`,
      plumbSlit: `${plumbWidth * pixel} m`,
      secondCollimatorFocalLength: "300 mm",
      cameraFocalLength: "300 mm",
      beamHeight: "0 mm",
      beamSize: `${beam} m`,
      beamWidth: `${beam} m`,
      disperser: { kind: "linear", wavelengthPerLength: perPixel / pixel },
      centreWavelength: `${middle} m`,
      inverted,
    },
    camera: {
      pixel: `${pixel} m`,
      columns,
      rows: Math.round(ROWS * fine),
      bitDepth: eight ? 8 : 16,
      gamma,
      blackLevel: 0,
    },
  });
  return {
    size,
    seed,
    number,
    source: "independent",
    element,
    trouble,
    setup,
    truth: {
      gradient,
      density: column,
      separation: pair ? long.wavelength - short.wavelength : null,
      ratio: pair ? short.oscillatorStrength / long.oscillatorStrength : null,
      tilt: (mirror ? -1 : 1) * (roll + slitTilt),
    },
    frames,
    coding,
    ...(lamp.length > 0 ? { lampLines: lamp.map((l) => l.wavelength) } : {}),
  };
}
