/**
 * Time of a picture against vectorised numpy in the same run, and against the number of pixels and of beam heights. Writes docs/bench-picture.md.
 *
 *     npx tsx bench/picture.ts            # needs python3 with numpy for the rival
 *     npx tsx bench/picture.ts --dry      # prints, writes nothing
 *
 * Each side's picture lies in memory of its own that it uses again. Both start from the lines' strengths and end with relative light (no noise): index and absorption per atom, curve at every height, picture.
 * Times are the least of several runs on one core, wall clock and processor time.
 */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import type { PerAtom } from "../src/medium/index.ts";
import {
  beamStrips,
  curveBundle,
  curveGrid,
  imageScale,
  spectralMap,
  strayAcross,
} from "../src/path/index.ts";
import {
  type CameraInput,
  createWorkspace,
  expose,
  renderLight,
  viewImage,
  type Workspace,
} from "../src/picture/index.ts";
import { growthPlot } from "./lib/growth-plot.ts";
import { plainBench } from "../src/path/testing/plain-bench.ts";

const PIXEL = 10e-6;
const LINES = [
  { wavelength: 766.7009e-9, bend: 1.15e-34, dark: 1.6e-44, halfWidth: 2e-12 },
  { wavelength: 770.1084e-9, bend: 0.57e-34, dark: 0.55e-44, halfWidth: 2e-12 },
];
const GRADIENT = -6.7e21;
const DENSITY = 8.8e19;
const SLOPE = 0.14;

const path = plainBench({
  levelSlit: 100e-6,
  plumbSlit: 30e-6,
  collimatorFocalLength: 0.5,
  focalLength: 0.5,
  disperser: { kind: "linear", wavelengthPerLength: 2e-6 },
  centreWavelength: 768.4e-9,
  beamSize: 2,
  beamWidth: 4e-3,
  defocus: 10e-6,
});

function perAtom(at: Float64Array): PerAtom {
  const refractivityPerDensity = new Float64Array(at.length);
  const crossSection = new Float64Array(at.length);
  for (let i = 0; i < at.length; i++) {
    for (const line of LINES) {
      const d = at[i] - line.wavelength;
      const den = d * d + line.halfWidth * line.halfWidth;
      refractivityPerDensity[i] += (line.bend * d) / den;
      crossSection[i] += line.dark / den;
    }
  }
  return { refractivityPerDensity, crossSection };
}

interface Size {
  readonly columns: number;
  readonly rows: number;
  readonly heights: number;
}

/** @param bench the straight one, or one whose camera is turned */
function job(
  size: Size,
  bench = path,
): {
  readonly run: () => Float32Array;
  readonly workspace: Workspace;
} {
  const workspace = createWorkspace();
  const room = { deflection: new Float64Array(0), transmission: new Float64Array(0) };
  const run = (): Float32Array => {
    const map = spectralMap(bench);
    const scale = imageScale(bench, map, { diffraction: false });
    // The beam of the case is 2 units high, so that a height is its share of the half beam.
    const { heights, weights } = beamStrips(bench, size.heights);
    const grid = curveGrid({
      map,
      width: size.columns * PIXEL,
      height: size.rows * PIXEL,
      beyond: strayAcross(scale, size.rows * PIXEL),
      step: PIXEL,
      perAtom,
      columnDensity: DENSITY,
      columnGradient: GRADIENT,
      perRadian: scale.perRadian,
    });
    const none = new Float64Array(heights.length);
    const bundle = curveBundle({
      wavelengths: grid.wavelengths,
      perAtom: grid.perAtom,
      weights,
      gasRefractivityPerDensity: 0,
      room,
      columns: {
        heights,
        columnDensity: heights.map((y) => DENSITY * (1 - SLOPE * y)),
        columnGradient: heights.map((y) => GRADIENT * (1 + SLOPE * y)),
        gasColumnGradient: none,
        effectiveDensity: none,
        effectiveTemperature: none,
        supersaturation: none,
      },
    });
    return renderLight(
      bundle,
      map,
      scale,
      { pixel: PIXEL, columns: size.columns, rows: size.rows },
      { workspace, into: "workspace" },
    );
  };
  return { run, workspace };
}

/** Least wall clock and processor time of one call, ms. */
function least(run: () => unknown, repeats: number): { wall: number; cpu: number } {
  let wall = Infinity;
  let cpu = Infinity;
  for (let k = 0; k < repeats; k++) {
    const c = process.cpuUsage();
    const t = performance.now();
    run();
    wall = Math.min(wall, performance.now() - t);
    const { user, system } = process.cpuUsage(c);
    cpu = Math.min(cpu, (user + system) / 1e3);
  }
  return { wall, cpu };
}

const rivalSize: Size = { columns: 1920, rows: 1080, heights: 61 };
const main = job(rivalSize);
const ours = least(main.run, 60);
const { heights } = beamStrips(path, rivalSize.heights);
const rival = spawnSync("python3", [new URL("picture.py", import.meta.url).pathname], {
  env: { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1" },
  input: JSON.stringify({
    ...rivalSize,
    pixel: PIXEL,
    lines: LINES,
    gradient: GRADIENT,
    density: DENSITY,
    slope: SLOPE,
    heights: [...heights],
    centre: path.centreWavelength,
    wavelengthPerLength: 2e-6,
    perRadian: 0.5,
    levelSlitHeight: 100e-6,
    plumbSlitWidth: 30e-6,
    blur: 10e-6,
    repeats: 5,
  }),
  encoding: "utf8",
  maxBuffer: 1e8,
});
const again = least(main.run, 60);
const best = { wall: Math.min(ours.wall, again.wall), cpu: Math.min(ours.cpu, again.cpu) };

const lines: string[] = [];
if (rival.status === 0) {
  const answer = JSON.parse(rival.stdout) as {
    seconds: number[];
    cpuSeconds: number[];
    numpy: string;
    sample: number[];
  };
  const wall = Math.min(...answer.seconds) * 1e3;
  const cpu = Math.min(...answer.cpuSeconds) * 1e3;
  let worst = 0;
  const light = main.run();
  answer.sample.forEach((v, i) => {
    const perRow = Math.ceil(rivalSize.columns / 8);
    const p = Math.floor(i / perRow) * 40 * rivalSize.columns + (i % perRow) * 8;
    worst = Math.max(worst, Math.abs(light[p] - v));
  });
  lines.push(
    "| 1920 × 1080, 61 beam heights, first slit resolved | wall, ms | processor, ms |",
    "|---|---|---|",
    `| crossprism (Node ${process.versions.node}) | ${best.wall.toFixed(1)} | ${best.cpu.toFixed(1)} |`,
    `| numpy ${answer.numpy}, vectorised | ${wall.toFixed(0)} | ${cpu.toFixed(0)} |`,
    `| ratio | ${(wall / best.wall).toFixed(0)} | ${(cpu / best.cpu).toFixed(0)} |`,
    "",
    `Largest difference between the two pictures on a sample of pixels: ${worst.toFixed(4)} of the cold line (the rival shares light between pixels without narrowing its blur).`,
    "The goal is a ratio of 20; the rival resamples its wavelengths along the curve, as a careful numpy user would. Processor time is user and system time of both.",
  );
} else lines.push("numpy rival: not run (python3 with numpy not found)");

lines.push("", "| columns × rows, heights | light, processor ms | per megapixel, ms |", "|---|---|---|");
const growth = [
  { name: "pixels, 21 heights", points: [] as [number, number][] },
  { name: "heights, 1280 × 800", points: [] as [number, number][] },
];
for (const [columns, rows, count, series] of [
  [640, 400, 21, 0],
  [1280, 800, 21, 0],
  [1920, 1080, 21, 0],
  [2560, 1600, 21, 0],
  [3840, 2160, 21, 0],
  [1280, 800, 9, 1],
  [1280, 800, 21, 1],
  [1280, 800, 61, 1],
  [1280, 800, 181, 1],
] as const) {
  const time = least(job({ columns, rows, heights: count }).run, 30);
  growth[series].points.push([series === 0 ? (columns * rows) / (640 * 400) : count / 9, time.cpu]);
  lines.push(
    `| ${columns} × ${rows}, ${count} | ${time.cpu.toFixed(1)} | ${((time.cpu * 1e6) / columns / rows).toFixed(1)} |`,
  );
}
if (!process.argv.includes("--dry"))
  writeFileSync(
    new URL("../docs/images/bench-picture-growth.svg", import.meta.url),
    growthPlot("A picture: cost as it grows", "times the smallest", "ms of processor", growth),
  );

const size: Size = { columns: 1280, rows: 800, heights: 21 };
const drag = job(size);
const camera: CameraInput = {
  pixel: PIXEL,
  columns: size.columns,
  rows: size.rows,
  exposure: 0.1,
  rate: 2e5,
  fullWell: 30000,
  readNoise: 3,
  blackLevel: 0.01,
  bitDepth: 16,
  gamma: 1,
  seed: 1,
};
const light = drag.run().slice();
const rgba = new Uint8ClampedArray(size.columns * size.rows * 4);
const map = spectralMap(path);
const steps = {
  light: least(drag.run, 40),
  "light, camera turned by 0.3°": least(job(size, { ...path, cameraRoll: 0.3 * (Math.PI / 180) }).run, 40),
  camera: least(() => expose(light, camera), 40),
  view: least(() => viewImage(light, map, camera, { into: rgba, workspace: drag.workspace }), 40),
};
lines.push("", "| 1280 × 800, 21 heights | processor, ms |", "|---|---|");
for (const [name, time] of Object.entries(steps)) lines.push(`| ${name} | ${time.cpu.toFixed(1)} |`);

lines.push(
  "",
  "![Cost of a picture against its pixels and its beam heights, both axes logarithmic](images/bench-picture-growth.svg)",
  "",
  "The dotted line grows in proportion: cost rises no faster than pixels and than heights, since most of both meet work that is shared.",
);

const text = `# Time of a picture

Written by \`npx tsx bench/picture.ts\` on ${cpus()[0]?.model ?? "an unnamed processor"} (${cpus().length} cores, shared with other work); least of many runs. Trust ratios more than milliseconds.

${lines.join("\n")}
`;
console.log(text);
if (!process.argv.includes("--dry"))
  writeFileSync(new URL("../docs/bench-picture.md", import.meta.url), text);
