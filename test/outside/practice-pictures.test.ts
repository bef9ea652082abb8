/**
 * Reading the practice pictures: made by an independent program, each with its truth (test/outside/pictures/README.md).
 * The limits are those that a reading must keep to be believed: separation 0.002 nm, gradient 0.5 %, density 3 %, strength
 * ratio 1 %, roll 0.02°.
 */
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePng, type Frame } from "../../src/picture/index.ts";
import { lampLinesFromNames, type Reading, readPicture } from "../../src/reading/index.ts";
import { parseJsonObject, parseSetup, type Setup } from "../../src/setup/index.ts";

interface Truth {
  readonly file: string;
  readonly column_density_m2: number;
  readonly column_gradient_m3: number;
  readonly tilt_deg: number;
  readonly line_columns: Readonly<Record<string, number>>;
  readonly f_values: readonly [number, number];
  readonly lamp_lines_vacuum_nm: readonly number[];
}

const SMALL = fileURLToPath(new URL("./pictures/", import.meta.url));
const ORIGINAL = fileURLToPath(new URL("../../../shared/pictures/", import.meta.url));
const EXAMPLES = fileURLToPath(new URL("../../examples/practice/", import.meta.url));

async function frameOf(path: string): Promise<Frame> {
  const bytes = readFileSync(path);
  if (path.endsWith(".png")) return decodePng(bytes, path);
  const { data, info } = await sharp(bytes).toColourspace("b-w").raw().toBuffer({ resolveWithObject: true });
  return { columns: info.width, rows: info.height, channels: 1, depth: 8, samples: new Uint8Array(data) };
}

/** Undoes the square-root coding of the small files and fills a cut strip with its own dark rows. */
function expanded(frame: Frame, steps: number, rows: number, first: number): Frame {
  const { columns } = frame;
  const samples = new Uint16Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const inside = r >= first && r < first + frame.rows;
    const from = (inside ? r - first : r % 18) * columns;
    for (let c = 0; c < columns; c++)
      samples[r * columns + c] = Math.round(
        ((frame.samples[from + c] / steps + Math.sqrt(0.18)) ** 2 - 0.18) * 65535,
      );
  }
  return { columns, rows, channels: 1, depth: 16, samples };
}

function setupOf(name: string): Setup {
  return parseSetup(parseJsonObject(readFileSync(`${EXAMPLES}${name}.json`, "utf8"), name));
}

function truthOf(name: string): Truth {
  return JSON.parse(readFileSync(`${SMALL}${name}.truth.json`, "utf8")) as Truth;
}

async function read(folder: string, name: string, setup: Setup, lines: readonly number[]): Promise<Reading> {
  const extension = name === "k-phone" ? "jpg" : "png";
  const open = async (file: string, steps: number, first: number): Promise<Frame> => {
    const frame = await frameOf(`${folder}${file}`);
    return folder === SMALL && file.endsWith("png") ? expanded(frame, steps, 900, first) : frame;
  };
  return readPicture({
    hot: await open(`${name}.${extension}`, 283, 0),
    cold: await open(`${name}-cold.${extension}`, 283, 330),
    lamp: await open(`${name}-lamp.png`, 140, 0),
    lampLines: lines,
    setup,
  });
}

function check(reading: Reading, truth: Truth): void {
  const [first, second] = Object.entries(truth.line_columns).map(([nm, column]) => ({
    nm: Number(nm),
    column,
  }));
  const relative = (got: number, wanted: number): number => Math.abs(got / wanted - 1);
  expect(relative(reading.columnGradient.value, truth.column_gradient_m3)).toBeLessThan(0.005);
  expect(relative(reading.columnDensity.value, truth.column_density_m2)).toBeLessThan(0.03);
  const separation = reading.lineSeparation?.value ?? 0;
  expect(Math.abs(separation * 1e9 - (second.nm - first.nm))).toBeLessThan(0.002);
  expect(relative(reading.fRatio?.value ?? 0, truth.f_values[0] / truth.f_values[1])).toBeLessThan(0.01);
  expect(Math.abs((reading.tilt.value * 180) / Math.PI - truth.tilt_deg)).toBeLessThan(0.02);
  // The other program draws its columns on a grid of its own: a tenth of a pixel is what it can promise.
  expect(Math.abs(reading.lineColumns[0].column - first.column)).toBeLessThan(0.1);
  expect(Math.abs(reading.lineColumns[1].column - second.column)).toBeLessThan(0.1);
  expect(reading.verdict.code).toBe("good");
  expect(reading.converged).toBe(true);
  for (const answer of [reading.columnGradient, reading.columnDensity, reading.tilt])
    expect(answer.standardUncertainty).toBeGreaterThan(0);
}

const NAMES = ["k-clean", "k-phone", "rb-broad"];

describe("practice pictures, made small", () => {
  it.each(NAMES)("%s with lamp and cold frame", async (name) => {
    const truth = truthOf(name);
    const lines = truth.lamp_lines_vacuum_nm.map((nm) => nm * 1e-9);
    check(await read(SMALL, name, setupOf(name), lines), truth);
  });

  it("k-clean with the lamp named by its elements only", async () => {
    const truth = truthOf("k-clean");
    check(await read(SMALL, "k-clean", setupOf("k-clean"), lampLinesFromNames("Ar, Ne")), truth);
  });
});

// The full-size originals stand beside the repository, not in it; the sets above, made smaller, are always read.
describe.skipIf(!existsSync(ORIGINAL))("practice pictures, originals", () => {
  it.each(NAMES)("%s with lamp and cold frame", async (name) => {
    const truth = truthOf(name);
    const lines = truth.lamp_lines_vacuum_nm.map((nm) => nm * 1e-9);
    check(await read(ORIGINAL, name, setupOf(name), lines), truth);
  });
});
