/**
 * Are the standard uncertainties of a reading true? Three benches, each with its light drawn once and exposed again and
 * again with fresh noise (hot and cold frame, 16 bits, linear), each read; then: how often the claimed 68 % and 95 %
 * intervals hold the mean of all readings, the scatter over what was claimed, and the scatter over the Cramér–Rao bound
 * (inverse of the full Fisher matrix, nuisance parameters included, of the same pixels with the noise that the camera was
 * given). Against the mean, because this asks for the noise part alone; the distance of the mean from what went in is
 * printed beside it, and how often the truth lies within 1.96 combined uncertainties of the reading.
 *
 *   node --import tsx bench/campaign/reading-coverage.ts [REPEATS] [EXAMPLE…] [--eight] [--rows FILE] [--write]
 *   node --import tsx bench/campaign/reading-coverage.ts --from FILE,FILE… [--write]    the report of earlier runs' rows
 *
 * With --rows every reading is written to FILE as soon as it is done, and one that stands there already is not read
 * again: a run that was stopped goes on where it was. With --eight the files have 8 bits, in which the noise of the dark
 * hides; the report names such benches so. Every hundred repeats the table so far goes to standard error.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { keepRow, keptRows, mendRows } from "../lib/kept-rows.ts";
import { expose } from "../../src/picture/index.ts";
import type { Measured } from "../../src/reading/index.ts";
import { buildReading } from "../../src/reading/answers.ts";
import { FitCovariance } from "../../src/reading/covariance.ts";
import { fitPicture } from "../../src/reading/fit-picture.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  type Setup,
  vapourStage,
} from "../../src/setup/index.ts";

/** Small crops with pixels binned four by four: both lines of a pair and all of the curve. */
const COLUMNS = 220;
const ROWS = 120;
const BINNED = 4;
const EXAMPLES = ["potassium-grating", "blue-twins", "strontium"];
const EIGHT = ", 8 bits";

const words = process.argv.slice(2);
const after = (flag: string): string | undefined => {
  const at = words.indexOf(flag);
  return at < 0 ? undefined : words[at + 1];
};
const repeats = Number(words.find((w) => /^\d+$/.test(w)) ?? 1000);
const rowsFile = after("--rows");
const from = after("--from");

type Seen = readonly [value: number, standard: number, bound: number, combined: number];

/** One reading of one exposure. */
interface Row {
  readonly bench: string;
  /** number of the repeat, from 0; gives the seeds of the noise */
  readonly repeat: number;
  readonly chi: number;
  /** the camera's own noise at half light over the one that the reading found */
  readonly noiseShare: number;
  /** s of processor time */
  readonly seconds: number;
  /** value, standard uncertainty, Cramér–Rao bound, combined uncertainty, SI; without the ratio where there is one line */
  readonly answers: Readonly<Record<string, Seen>>;
}

if (rowsFile !== undefined) mendRows(rowsFile);
const rows = (from?.split(",") ?? (rowsFile === undefined ? [] : [rowsFile])).flatMap(
  (file) => keptRows(file) as Row[],
);
const asked = EXAMPLES.filter(
  (one) => words.includes(one) || !EXAMPLES.some((other) => words.includes(other)),
);
const named =
  from === undefined
    ? asked.map((one) => (words.includes("--eight") ? one + EIGHT : one))
    : [...EXAMPLES, ...EXAMPLES.map((one) => one + EIGHT)].filter((one) =>
        rows.some((row) => row.bench === one),
      );
const lines = named.flatMap((name) => {
  const bench = prepared(name);
  const done = rows.filter((row) => row.bench === name && (from !== undefined || row.repeat < repeats));
  const seen = new Set(done.map((row) => row.repeat));
  if (seen.size < done.length) throw new Error(`${name}: some repeat stands twice among the rows`);
  for (let k = 0; from === undefined && k < repeats; k++) {
    if (seen.has(k)) continue;
    const row = repeated(name, bench, k);
    done.push(row);
    if (rowsFile !== undefined) keepRow(rowsFile, row);
    if (done.length % 100 === 0) process.stderr.write(`${tableOf(name, bench.truth, done).join("\n")}\n`);
  }
  return tableOf(name, bench.truth, done);
});
const text = [
  "# Do the claimed uncertainties hold?",
  "",
  `Written by \`npx tsx bench/campaign/reading-coverage.ts\` on ${new Date().toISOString().slice(0, 10)}: noisy repeats of each bench, hot and cold frame, ${COLUMNS} × ${ROWS} pixels, linear, 16 bits unless named.`,
  "Wanted: 68 ± 5 %, 95 ± 2.5 %, scatter at most 1.25 times the Cramér–Rao bound.",
  "",
  ...lines,
].join("\n");
if (words.includes("--write"))
  writeFileSync(fileURLToPath(new URL("../../docs/reading-coverage.md", import.meta.url)), text);
process.stdout.write(text);

interface Bench {
  readonly setup: Setup;
  readonly hot: Float32Array;
  readonly cold: Float32Array;
  /** what went in, SI; NaN where nobody knows */
  readonly truth: Readonly<Record<string, number>>;
}

/** A bench's light, drawn once. */
function prepared(name: string): Bench {
  const path = fileURLToPath(new URL(`../../examples/${name.replace(EIGHT, "")}.json`, import.meta.url));
  const whole = parseSetup(parseJsonObject(readFileSync(path, "utf8"), name));
  const camera = {
    ...whole.camera,
    bitDepth: name.endsWith(EIGHT) ? (8 as const) : whole.camera.bitDepth,
    columns: COLUMNS,
    rows: ROWS,
    pixel: BINNED * whole.camera.pixel,
    blackLevel: Math.max(whole.camera.blackLevel, 0.01),
  };
  const setup = { ...whole, camera };
  const vapour = vapourStage(setup);
  const curve = curveStage(setup, vapour);
  return {
    setup,
    hot: pictureStage(setup, curve).light.slice(),
    cold: pictureStage(setup, coldCurve(curve)).light.slice(),
    truth: {
      "column gradient": vapour.middle.columnGradient,
      "column density": vapour.middle.columnDensity,
      "strength ratio": Number.NaN,
      tilt: setup.path.cameraRoll + setup.path.levelSlitTilt,
    },
  };
}

function repeated(bench: string, { setup, hot, cold }: Bench, repeat: number): Row {
  const { camera } = setup;
  const exposed = {
    hot: expose(hot, camera, 2 * repeat + 1),
    cold: expose(cold, camera, 2 * repeat + 2),
    setup,
  };
  const started = process.cpuUsage();
  const fitted = fitPicture(exposed);
  const reading = buildReading(fitted);
  const used = process.cpuUsage(started);
  const perLight = (1 - camera.blackLevel) / camera.fullWell;
  const count = 1 / (2 ** camera.bitDepth - 1);
  const true2 = (perLight * camera.readNoise) ** 2 + count ** 2 / 12 + 0.5 * perLight;
  const found = fitted.undeflected.noise.floor + 0.5 * fitted.undeflected.noise.perLight;
  const noiseShare = Math.sqrt(true2 / found);
  const bound = new FitCovariance(fitted.terms, fitted.fit.solution.covariance, noiseShare * noiseShare);
  const seen = (measured: Measured, limit: number): Seen => [
    measured.value,
    measured.standardUncertainty,
    limit,
    measured.combinedUncertainty,
  ];
  const { columnGradient, columnDensity, tilt, fRatio } = reading;
  return {
    bench,
    repeat,
    chi: reading.reducedChiSquare,
    noiseShare,
    seconds: (used.user + used.system) / 1e6,
    answers: {
      "column gradient": seen(columnGradient, bound.sigma("column gradient")),
      "column density": seen(columnDensity, bound.sigma("column density")),
      ...(fRatio && {
        "strength ratio": seen(
          fRatio,
          (bound.sigma("strength ratio") * fRatio.value) / fitted.fit.values["strength ratio"],
        ),
      }),
      tilt: seen(tilt, bound.propagate({ roll: 1, slope: 1 })),
    },
  };
}

function tableOf(name: string, truth: Bench["truth"], done: readonly Row[]): string[] {
  const mean = (of: (row: Row) => number): number => average(done.map(of));
  const lines = [
    `## ${name}`,
    "",
    `${done.length} repeats; χ² per degree of freedom ${mean((r) => r.chi).toFixed(3)}, true noise over found ${mean((r) => r.noiseShare).toFixed(3)}, ${mean((r) => r.seconds).toFixed(2)} s of processor a reading.`,
    "",
    "| answer | in 68 % | in 95 % | scatter / claimed | scatter / Cramér–Rao | mean off the truth, claimed σ | truth in combined 95 % |",
    "| --- | --- | --- | --- | --- | --- | --- |",
  ];
  for (const answer of Object.keys(truth)) {
    const seen = done.flatMap((row) => (answer in row.answers ? [row.answers[answer]] : []));
    if (seen.length < 2) continue;
    const middle = average(seen.map(([value]) => value));
    const scatter = Math.sqrt(
      seen.reduce((sum, [value]) => sum + (value - middle) ** 2, 0) / (seen.length - 1),
    );
    const claimed = average(seen.map(([, sigma]) => sigma));
    const bound = average(seen.map(([, , limit]) => limit));
    const within = (factor: number): string =>
      `${((100 * seen.filter(([value, sigma]) => Math.abs(value - middle) < factor * sigma).length) / seen.length).toFixed(1)} %`;
    const wanted = truth[answer];
    const known = !Number.isNaN(wanted);
    const off = known ? ((middle - wanted) / claimed).toFixed(1) : "–";
    const held = seen.filter(([value, , , combined]) => Math.abs(value - wanted) < 1.96 * combined).length;
    const whole = known ? `${((100 * held) / seen.length).toFixed(1)} %` : "–";
    lines.push(
      `| ${answer} | ${within(0.9945)} | ${within(1.96)} | ${(scatter / claimed).toFixed(3)} | ${(scatter / bound).toFixed(3)} | ${off} | ${whole} |`,
    );
  }
  lines.push("");
  return lines;
}

function average(list: readonly number[]): number {
  return list.reduce((sum, v) => sum + v, 0) / list.length;
}
