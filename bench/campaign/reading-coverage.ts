/**
 * Are the standard uncertainties of a reading true? One bench, its light drawn once, exposed again and again with fresh
 * noise (hot and cold frame), each read; then: scatter of the answers over the uncertainty they claim, and how often the
 * claimed 68 % and 95 % intervals hold the mean of all readings. Against the mean, because this asks for the noise part
 * alone; the distance of the mean from what went in is printed beside it.
 *
 *   node --import tsx bench/campaign/reading-coverage.ts [EXAMPLE] [REPEATS] [COLUMNS] [ROWS]
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expose } from "../../src/picture/index.ts";
import { type Measured, readPicture } from "../../src/reading/index.ts";
import {
  coldCurve,
  curveStage,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../../src/setup/index.ts";

const [name = "potassium-grating", repeats = "1000", columns = "860", rows = "500"] = process.argv.slice(2);
const path = fileURLToPath(new URL(`../../examples/${name}.json`, import.meta.url));
const whole = parseSetup(parseJsonObject(readFileSync(path, "utf8"), name));
const setup = { ...whole, camera: { ...whole.camera, columns: Number(columns), rows: Number(rows) } };
const vapour = vapourStage(setup);
const curve = curveStage(setup, vapour);
const hot = pictureStage(setup, curve).light;
const cold = pictureStage(setup, coldCurve(curve)).light;

const answers: Record<string, { readonly truth: number; readonly seen: Measured[] }> = {
  columnGradient: { truth: vapour.middle.columnGradient, seen: [] },
  columnDensity: { truth: vapour.middle.columnDensity, seen: [] },
  fRatio: { truth: Number.NaN, seen: [] },
  tilt: { truth: setup.path.cameraRoll + setup.path.levelSlitTilt, seen: [] },
};
const started = process.cpuUsage().user;
for (let k = 0; k < Number(repeats); k++) {
  const reading = readPicture({
    hot: expose(hot, setup.camera, 2 * k + 1),
    cold: expose(cold, setup.camera, 2 * k + 2),
    setup,
  });
  answers["columnGradient"].seen.push(reading.columnGradient);
  answers["columnDensity"].seen.push(reading.columnDensity);
  answers["tilt"].seen.push(reading.tilt);
  if (reading.fRatio) answers["fRatio"].seen.push(reading.fRatio);
}
const seconds = (process.cpuUsage().user - started) / 1e6 / Number(repeats);
console.log(
  `${name}, ${columns} × ${rows} pixels, ${repeats} repeats, ${seconds.toFixed(2)} s of processor each`,
);
console.log("answer          scatter/claimed   in 68 %   in 95 %   mean off the truth (claimed σ)");
for (const [answer, { truth, seen }] of Object.entries(answers)) {
  if (seen.length < 2) continue;
  const mean = seen.reduce((sum, m) => sum + m.value, 0) / seen.length;
  const scatter = Math.sqrt(seen.reduce((sum, m) => sum + (m.value - mean) ** 2, 0) / (seen.length - 1));
  const claimed = seen.reduce((sum, m) => sum + m.standardUncertainty, 0) / seen.length;
  const within = (factor: number): string => {
    const held = seen.filter((m) => Math.abs(m.value - mean) < factor * m.standardUncertainty).length;
    return `${((100 * held) / seen.length).toFixed(1)} %`;
  };
  const off = Number.isNaN(truth) ? "" : ((mean - truth) / claimed).toFixed(1);
  console.log(
    `${answer.padEnd(16)}${(scatter / claimed).toFixed(2).padStart(8)}${within(1).padStart(16)}${within(1.96).padStart(10)}${off.padStart(12)}`,
  );
}
