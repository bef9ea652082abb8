/**
 * Reading the small practice pictures (1400 × 900, hot, cold and lamp): processor time of a whole reading once the
 * program is warm, least of several, and the errors against the truth; then the rival, `reading_reference.py`, which fits
 * the hot picture of k-clean alone with scipy. Frames are decoded beforehand.
 *
 *   node --import tsx bench/reading.ts [REPEATS] [--alone]        --alone: without the rival
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { decodePng, type Frame } from "../src/picture/index.ts";
import { naturalWidth, selfBroadening } from "../src/medium/index.ts";
import { type ReadingInput, readPicture } from "../src/reading/index.ts";
import { linesOf, meanMassOf } from "../src/reference/index.ts";
import { parseJsonObject, parseSetup } from "../src/setup/index.ts";

interface Truth {
  readonly column_density_m2: number;
  readonly column_gradient_m3: number;
  readonly tilt_deg: number;
  readonly lamp_lines_vacuum_nm: readonly number[];
}

const at = (file: string): string => fileURLToPath(new URL(`../${file}`, import.meta.url));

async function frame(file: string, steps: number, first: number): Promise<Frame> {
  const bytes = readFileSync(at(`test/outside/pictures/${file}`));
  if (file.endsWith(".jpg")) {
    const { data, info } = await sharp(bytes)
      .toColourspace("b-w")
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { columns: info.width, rows: info.height, channels: 1, depth: 8, samples: new Uint8Array(data) };
  }
  // Square-root coding and cut strips: test/outside/pictures/README.md.
  const coded = decodePng(bytes, file);
  const samples = new Uint16Array(coded.columns * 900);
  for (let r = 0; r < 900; r++) {
    const inside = r >= first && r < first + coded.rows;
    const from = (inside ? r - first : r % 18) * coded.columns;
    for (let c = 0; c < coded.columns; c++)
      samples[r * coded.columns + c] = Math.round(
        ((coded.samples[from + c] / steps + Math.sqrt(0.18)) ** 2 - 0.18) * 65535,
      );
  }
  return { columns: coded.columns, rows: 900, channels: 1, depth: 16, samples };
}

const repeats = Number(process.argv.slice(2).find((word) => /^\d+$/.test(word)) ?? 5);
console.log(`load ${loadavg()[0].toFixed(1)}`);
let ours = 0;
let rivalled: ReadingInput | undefined;
for (const name of ["k-clean", "k-phone", "rb-broad"]) {
  const extension = name === "k-phone" ? "jpg" : "png";
  const truth = JSON.parse(readFileSync(at(`test/outside/pictures/${name}.truth.json`), "utf8")) as Truth;
  const setup = parseSetup(parseJsonObject(readFileSync(at(`examples/practice/${name}.json`), "utf8"), name));
  const input = {
    hot: await frame(`${name}.${extension}`, 283, 0),
    cold: await frame(`${name}-cold.${extension}`, 283, 330),
    lamp: await frame(`${name}-lamp.png`, 140, 0),
    lampLines: truth.lamp_lines_vacuum_nm.map((nm) => nm * 1e-9),
    setup,
  };
  let least = Number.POSITIVE_INFINITY;
  let reading = readPicture(input);
  for (let k = 0; k < repeats; k++) {
    const started = process.cpuUsage();
    reading = readPicture(input);
    const used = process.cpuUsage(started);
    least = Math.min(least, (used.user + used.system) / 1e6);
  }
  if (name === "k-clean") {
    ours = least;
    rivalled = input;
  }
  const percent = (got: number, wanted: number): string => `${(100 * (got / wanted - 1)).toFixed(3)} %`;
  console.log(
    `${name}: ${least.toFixed(2)} s; gradient ${percent(reading.columnGradient.value, truth.column_gradient_m3)}, ` +
      `density ${percent(reading.columnDensity.value, truth.column_density_m2)}, ` +
      `tilt ${((reading.tilt.value * 180) / Math.PI - truth.tilt_deg).toFixed(4)}°, χ² ${reading.reducedChiSquare.toFixed(2)}`,
  );
}

if (rivalled !== undefined && !process.argv.includes("--alone")) {
  const seconds = rival(rivalled);
  console.log(
    `rival ${seconds.toFixed(2)} s for the fit alone, ${(seconds / ours).toFixed(1)} times as long`,
  );
}

/** Processor time of the scipy fit of the hot picture, started 3 % off the truth. */
function rival({ hot, setup }: ReadingInput): number {
  const truth = JSON.parse(readFileSync(at("test/outside/pictures/k-clean.truth.json"), "utf8")) as Truth;
  const folder = mkdtempSync(join(tmpdir(), "crossprism-bench-"));
  try {
    writeFileSync(join(folder, "hot.u16"), new Uint8Array((hot.samples as Uint16Array).buffer));
    const lines = linesOf("K")
      .filter((line) => line.wavelength > 765e-9 && line.wavelength < 771e-9)
      .sort((a, b) => a.wavelength - b.wavelength);
    const relay = setup.path.cameraFocalLength / setup.path.secondCollimatorFocalLength;
    const job = {
      file: join(folder, "hot.u16"),
      columns: hot.columns,
      rows: hot.rows,
      pixelsPerRadian: (setup.path.focalLength * relay) / setup.camera.pixel,
      slit: 1.48,
      noise: [9.5e-6, 5.3e-5],
      lines: lines.map((line) => ({
        wavelength: line.wavelength,
        f: line.oscillatorStrength,
        natural: naturalWidth(line) / (2 * Math.PI),
        self: selfBroadening(line) / (2 * Math.PI),
        mass: meanMassOf("K"),
      })),
      length: setup.vessel.heatedLength,
      temperature: (setup.vessel.wall.bottom + setup.vessel.wall.top) / 2,
      beam: setup.path.beamSize,
      start: {
        gradient: 1.03 * truth.column_gradient_m3,
        density: 0.97 * truth.column_density_m2,
        places: [-85.5, 85.5],
        light: (hot.samples as Uint16Array).reduce((a, b) => Math.max(a, b), 0) / 65535,
      },
    };
    writeFileSync(join(folder, "job.json"), JSON.stringify(job));
    const done = spawnSync("python3", [at("bench/reading_reference.py"), join(folder, "job.json")], {
      encoding: "utf8",
      env: { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1" },
    });
    if (done.status !== 0) throw new Error(done.stderr);
    const found = JSON.parse(done.stdout) as {
      seconds: number;
      evaluations: number;
      gradient: number;
      density: number;
      reducedChiSquare: number;
      pixels: number;
    };
    console.log(
      `scipy: ${found.evaluations} steps over ${found.pixels} pixels; gradient ${(100 * (found.gradient / truth.column_gradient_m3 - 1)).toFixed(3)} %, density ${(100 * (found.density / truth.column_density_m2 - 1)).toFixed(3)} %, χ² ${found.reducedChiSquare.toFixed(2)}`,
    );
    return found.seconds;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
