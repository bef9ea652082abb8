/** Several cold, lamp, dark and flat frames by the command line. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { encodePng, expose, type Frame, renderLamp } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, vapourStage } from "../setup/index.ts";
import { command } from "./testing/command.ts";

const setup = benchSetup();
const curve = curveStage(setup, vapourStage(setup));
const folder = mkdtempSync(join(tmpdir(), "crossprism-several-"));
const at = (name: string): string => join(folder, name);
const bench = [
  ...["--setup", new URL("../../examples/potassium-grating.json", import.meta.url).pathname],
  ...["camera.pixel=9 um", "camera.columns=400", "camera.rows=230"].flatMap((each) => ["--set", each]),
];
const names = "766.4 nm vacuum, 767.2 nm vacuum, 768.9 nm vacuum, 770.6 nm vacuum";

/** A ray of the sky, as bright as the sensor goes, on the cold line. */
function struck(frame: Frame): Frame {
  const samples = frame.samples.slice();
  for (let c = 60; c < 90; c++) samples[115 * frame.columns + c] = 65535;
  return { ...frame, samples };
}

/** A bright column where the lamp has no line. */
function plumbStreak(frame: Frame): Frame {
  const samples = frame.samples.slice();
  for (let r = 20; r < 210; r++) samples[r * frame.columns + 150] = 40_000;
  return { ...frame, samples };
}

beforeAll(() => {
  const write = (name: string, frame: Frame): void => writeFileSync(at(name), encodePng(frame));
  const { camera } = setup;
  write("hot.png", expose(pictureStage(setup, curve).light, camera, 1));
  const cold = pictureStage(setup, coldCurve(curve)).light;
  for (let k = 1; k <= 4; k++) {
    const frame = expose(cold, camera, 10 + k);
    write(`cold-${k}.png`, k === 2 ? struck(frame) : frame);
    write(`dark-${k}.png`, expose(new Float32Array(cold.length), camera, 20 + k));
    write(`flat-${k}.png`, expose(new Float32Array(cold.length).fill(0.5), camera, 30 + k));
  }
  const lines = [766.4, 767.2, 768.9, 770.6].map((nm) => ({ wavelength: nm * 1e-9, intensity: 0.8 }));
  const lamp = renderLamp(lines, curve.map, curve.scale, camera);
  for (let k = 1; k <= 3; k++) {
    const frame = expose(lamp, camera, 40 + k);
    write(`lamp-${k}.png`, k === 2 ? plumbStreak(frame) : frame);
  }
  write("cold-clean.png", expose(cold, camera, 14));
  const small = expose(new Float32Array(20 * 10), { ...camera, columns: 20, rows: 10 }, 1);
  write("small.png", small);
});
afterAll(() => rmSync(folder, { recursive: true }));

const four = (part: string): string[] => [1, 2, 3, 4].flatMap((k) => [`--${part}`, at(`${part}-${k}.png`)]);

interface Read {
  readonly columnGradient: { readonly value: number; readonly standardUncertainty: number };
  readonly reducedChiSquare: number;
  readonly wavelengthScale: {
    readonly source: string;
    readonly features: readonly { readonly wavelengths: readonly number[] }[];
  };
  readonly files: Readonly<Record<string, string | readonly string[]>>;
}
async function read(...args: readonly string[]): Promise<Read> {
  const { code, out, err } = await command("read", at("hot.png"), ...bench, ...args, "--json");
  expect([code, err]).toEqual([0, ""]);
  return JSON.parse(out) as Read;
}

describe("several frames of one kind", () => {
  it("are averaged without what only one of them shows, and stand in the reading's record", async () => {
    const clean = await read("--cold", at("cold-clean.png"));
    const mean = await read(...four("cold"));
    // The bright streak in one of the four is gone: alone it spoils the cold line.
    expect(Math.abs(mean.columnGradient.value / clean.columnGradient.value - 1)).toBeLessThan(2e-3);
    // Four cold frames do not make the hot one's pixels any quieter.
    expect(mean.reducedChiSquare / clean.reducedChiSquare).toBeCloseTo(1, 1);
    expect(mean.files["cold"]).toEqual([1, 2, 3, 4].map((k) => at(`cold-${k}.png`)));
    expect(mean.files["hot"]).toEqual([at("hot.png")]);
  });

  it("dark and flat ones too, with `series` and `diagnose` as well", async () => {
    const all = [...four("cold"), ...four("dark"), ...four("flat")];
    const reading = await read(...all);
    expect(reading.files["flat"]).toHaveLength(4);
    const series = await command("series", at("hot.png"), ...bench, ...all, "--workers", "1", "--json");
    expect([series.code, series.err]).toEqual([0, ""]);
    const { rows, files } = JSON.parse(series.out) as {
      rows: readonly { readonly values: Readonly<Record<string, number>> }[];
      files: Read["files"];
    };
    expect(rows[0].values["column_gradient_m-3"]).toBe(reading.columnGradient.value);
    expect(files["dark"]).toHaveLength(4);
    const said = await command("diagnose", at("hot.png"), ...bench, ...all, "--json");
    expect([said.code, said.err]).toEqual([0, ""]);
    expect((JSON.parse(said.out) as { files: Read["files"] }).files["cold"]).toHaveLength(4);
  });

  it.each([
    ["cold", []],
    ["lamp", ["--lamp-lines", names]],
    ["dark", []],
    ["flat", []],
  ] as const)("of two sizes are refused in one sentence that names the file (--%s)", async (part, also) => {
    for (const name of ["read", "series", "diagnose", "spectrum"]) {
      const given = [`--${part}`, at("cold-1.png"), `--${part}`, at("small.png"), ...also];
      const said = await command(name, at("hot.png"), ...bench, ...given);
      if (name === "series") {
        // A picture of a series that cannot be read says why in its row.
        expect(said.out).toContain(
          "small.png: expected frames of one kind, like the first: 400 × 230 pixels",
        );
        continue;
      }
      expect(said.code).toBe(2);
      expect(said.err.trim()).toMatch(
        /^[^\n]*small\.png: expected frames of one kind, like the first: 400 × 230 pixels[^\n]*received 20 × 10 pixels[^\n]*$/,
      );
    }
  });

  it("the lamp's frames are averaged as the others are", async () => {
    const lamps = [1, 2, 3].flatMap((k) => ["--lamp", at(`lamp-${k}.png`)]);
    const reading = await read("--cold", at("cold-1.png"), ...lamps, "--lamp-lines", names);
    expect(reading.files["lamp"]).toHaveLength(3);
    // Frame 2 of the three has a streak where there is no line.
    expect(reading.wavelengthScale.source).toBe("lamp");
    expect(reading.wavelengthScale.features.map((f) => f.wavelengths.length)).toEqual([1, 1, 1, 1]);
  });
});
