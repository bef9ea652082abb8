/**
 * Are the standard uncertainties of a reading true? Three benches, each with its light drawn once and exposed again and
 * again with fresh noise (hot and cold frame, 16 bits, linear), each read; then: how often the claimed 68 % and 95 %
 * intervals hold the mean of all readings, the scatter over what was claimed, and the scatter over the Cramér–Rao bound
 * (inverse of the full Fisher matrix, nuisance parameters included, of the same pixels with the noise that the camera was
 * given). Against the mean, because this asks for the noise part alone; the distance of the mean from what went in is
 * printed beside it.
 *
 *   node --import tsx bench/campaign/reading-coverage.ts [REPEATS] [EXAMPLE…] [--write]
 *
 * Every hundred repeats the table so far goes to standard error.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
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
  vapourStage,
} from "../../src/setup/index.ts";

/** Small crops with pixels binned four by four: both lines of a pair and all of the curve. */
const COLUMNS = 220;
const ROWS = 120;
const BINNED = 4;
const BENCHES = ["potassium-grating", "blue-twins", "strontium"];

const words = process.argv.slice(2);
const repeats = Number(words.find((w) => /^\d+$/.test(w)) ?? 1000);
const named = words.filter((w) => BENCHES.includes(w));
const lines: string[] = [];

for (const name of named.length > 0 ? named : BENCHES) campaign(name);
const text = [
  "# Do the claimed uncertainties hold?",
  "",
  `Written by \`npx tsx bench/campaign/reading-coverage.ts ${words.join(" ")}\` on ${new Date().toISOString().slice(0, 10)}: ${repeats} noisy repeats of each bench, hot and cold frame, ${COLUMNS} × ${ROWS} pixels, 16 bits, linear.`,
  "Wanted: 68 ± 5 %, 95 ± 2.5 %, scatter at most 1.25 times the Cramér–Rao bound.",
  "",
  ...lines,
].join("\n");
if (words.includes("--write"))
  writeFileSync(fileURLToPath(new URL("../../docs/reading-coverage.md", import.meta.url)), text);
process.stdout.write(text);

function campaign(name: string): void {
  const path = fileURLToPath(new URL(`../../examples/${name}.json`, import.meta.url));
  const whole = parseSetup(parseJsonObject(readFileSync(path, "utf8"), name));
  const camera = {
    ...whole.camera,
    columns: COLUMNS,
    rows: ROWS,
    pixel: BINNED * whole.camera.pixel,
    blackLevel: Math.max(whole.camera.blackLevel, 0.01),
  };
  const setup = { ...whole, camera };
  const vapour = vapourStage(setup);
  const curve = curveStage(setup, vapour);
  const hot = pictureStage(setup, curve).light.slice();
  const cold = pictureStage(setup, coldCurve(curve)).light.slice();
  const answers: Record<string, Answer> = {
    "column gradient": { truth: vapour.middle.columnGradient, seen: [], bounds: [] },
    "column density": { truth: vapour.middle.columnDensity, seen: [], bounds: [] },
    "strength ratio": { truth: Number.NaN, seen: [], bounds: [] },
    tilt: { truth: setup.path.cameraRoll + setup.path.levelSlitTilt, seen: [], bounds: [] },
  };
  const started = process.cpuUsage().user;
  let chi = 0;
  let noiseShare = 0;
  for (let k = 0; k < repeats; k++) {
    const fitted = fitPicture({
      hot: expose(hot, camera, 2 * k + 1),
      cold: expose(cold, camera, 2 * k + 2),
      setup,
    });
    const reading = buildReading(fitted);
    chi += reading.reducedChiSquare;
    // The camera's own noise at half light over the one that the reading found.
    const perLight = (1 - camera.blackLevel) / camera.fullWell;
    const true2 = (perLight * camera.readNoise) ** 2 + 0.5 * perLight;
    const found = fitted.undeflected.noise.floor + 0.5 * fitted.undeflected.noise.perLight;
    const share = Math.sqrt(true2 / found);
    noiseShare += share;
    const bound = new FitCovariance(fitted.terms, fitted.fit.solution.covariance, share * share);
    const see = (answer: string, measured: Measured | null, limit: number): void => {
      if (measured === null) return;
      answers[answer].seen.push(measured);
      answers[answer].bounds.push(limit);
    };
    see("column gradient", reading.columnGradient, bound.sigma("column gradient"));
    see("column density", reading.columnDensity, bound.sigma("column density"));
    see("tilt", reading.tilt, bound.propagate({ roll: 1, slope: 1 }));
    if (reading.fRatio)
      see(
        "strength ratio",
        reading.fRatio,
        (bound.sigma("strength ratio") * reading.fRatio.value) / fitted.fit.values["strength ratio"],
      );
    if ((k + 1) % 100 === 0)
      process.stderr.write(`${tableOf(name, answers, k + 1, chi, noiseShare, started).join("\n")}\n`);
  }
  lines.push(...tableOf(name, answers, repeats, chi, noiseShare, started));
}

interface Answer {
  readonly truth: number;
  readonly seen: Measured[];
  readonly bounds: number[];
}

function tableOf(
  name: string,
  answers: Readonly<Record<string, Answer>>,
  done: number,
  chi: number,
  noiseShare: number,
  started: number,
): string[] {
  const seconds = (process.cpuUsage().user - started) / 1e6 / done;
  const lines = [
    `## ${name}`,
    "",
    `${done} repeats; χ² per degree of freedom ${(chi / done).toFixed(3)}, true noise over found ${(noiseShare / done).toFixed(3)}, ${seconds.toFixed(2)} s of processor a reading.`,
    "",
    "| answer | in 68 % | in 95 % | scatter / claimed | scatter / Cramér–Rao | mean off the truth, claimed σ |",
    "| --- | --- | --- | --- | --- | --- |",
  ];
  for (const [answer, { truth, seen, bounds }] of Object.entries(answers)) {
    if (seen.length < 2) continue;
    const mean = average(seen.map((m) => m.value));
    const scatter = Math.sqrt(seen.reduce((sum, m) => sum + (m.value - mean) ** 2, 0) / (seen.length - 1));
    const claimed = average(seen.map((m) => m.standardUncertainty));
    const within = (factor: number): string =>
      `${((100 * seen.filter((m) => Math.abs(m.value - mean) < factor * m.standardUncertainty).length) / seen.length).toFixed(1)} %`;
    const off = Number.isNaN(truth) ? "–" : ((mean - truth) / claimed).toFixed(1);
    lines.push(
      `| ${answer} | ${within(0.9945)} | ${within(1.96)} | ${(scatter / claimed).toFixed(3)} | ${(scatter / average(bounds)).toFixed(3)} | ${off} |`,
    );
  }
  lines.push("");
  return lines;
}

function average(list: readonly number[]): number {
  return list.reduce((sum, v) => sum + v, 0) / list.length;
}
