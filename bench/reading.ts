/**
 * Reading the small practice pictures (1400 × 900, hot, cold and lamp): processor time of a whole reading once the
 * program is warm, least of several, and the errors against the truth. Frames are decoded beforehand.
 *
 *   node --import tsx bench/reading.ts [REPEATS]
 */
import { readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { decodePng, type Frame } from "../src/picture/index.ts";
import { readPicture } from "../src/reading/index.ts";
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

const repeats = Number(process.argv[2] ?? 5);
console.log(`load ${loadavg()[0].toFixed(1)}`);
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
  const percent = (got: number, wanted: number): string => `${(100 * (got / wanted - 1)).toFixed(3)} %`;
  console.log(
    `${name}: ${least.toFixed(2)} s; gradient ${percent(reading.columnGradient.value, truth.column_gradient_m3)}, ` +
      `density ${percent(reading.columnDensity.value, truth.column_density_m2)}, ` +
      `tilt ${((reading.tilt.value * 180) / Math.PI - truth.tilt_deg).toFixed(4)}°, χ² ${reading.reducedChiSquare.toFixed(2)}`,
  );
}
