import { describe, expect, it } from "vitest";
import { spectralMap } from "../path/index.ts";
import type { CameraInput, SensorTraits } from "./api.ts";
import { audienceOf, slitsForAudience } from "./audience.ts";
import { demosaic, mosaicView } from "./demosaic.ts";
import { expose } from "./expose.ts";
import { record } from "./record.ts";
import { responseOf } from "./sensor-response.ts";
import { signalAlong } from "./signal.ts";
import { soften } from "./soften.ts";
import { plainBench } from "../path/testing/plain-bench.ts";

const traits: SensorTraits = {
  filter: "none",
  infraredFilter: false,
  darkCurrent: 0,
  hotPixels: 0,
  hotCurrent: 2000,
  chip: 1,
};
const camera: CameraInput = {
  pixel: 5e-6,
  columns: 60,
  rows: 40,
  exposure: 0.1,
  rate: 1e5,
  fullWell: 20000,
  readNoise: 3,
  blackLevel: 0.01,
  bitDepth: 16,
  gamma: 1,
  seed: 4,
};
const path = plainBench({
  source: { kind: "carbon-arc" },
});
const map = spectralMap(path);
const seen = { map, roll: 0 };
const even = new Float32Array(camera.columns * camera.rows).fill(0.5);
const mean = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((s, v) => s + v, 0) / values.length;
const electrons = (samples: ArrayLike<number>): number =>
  ((mean(samples) / 65535 - camera.blackLevel) / (1 - camera.blackLevel)) * camera.fullWell;

describe("what the sensor stores", () => {
  it("is the plain exposure where nothing is said of the sensor", () => {
    expect(record(even, camera, seen).samples).toEqual(expose(even, camera).samples);
  });

  it("counts each pixel of a mosaic through its own filter", () => {
    const bayer = { ...camera, sensor: { ...traits, filter: "bayer" as const } };
    const { samples } = record(even, bayer, seen);
    const at = (row: number, column: number): number[] => {
      const out: number[] = [];
      for (let r = row; r < 40; r += 2) for (let c = column; c < 60; c += 2) out.push(samples[r * 60 + c]);
      return out;
    };
    const [red, green, blue] = responseOf(bayer.sensor)(550e-9);
    expect(electrons(at(0, 0))).toBeCloseTo(5000 * red, -2);
    expect(electrons(at(0, 1)) / (5000 * green)).toBeCloseTo(1, 1);
    expect(electrons(at(1, 0)) / (5000 * green)).toBeCloseTo(1, 1);
    expect(electrons(at(1, 1))).toBeCloseTo(5000 * blue, -2);
    expect(green).toBeGreaterThan(4 * red);
  });

  it("is all but blind to the near infrared behind its filter, and takes a response of one's own", () => {
    const block = responseOf({ ...traits, infraredFilter: true });
    expect(block(767e-9)[0]).toBeLessThan(0.003);
    expect(block(550e-9)[0]).toBeGreaterThan(0.9);
    const own = responseOf({
      ...traits,
      response: [
        [500e-9, 0.2],
        [600e-9, 0.6],
      ],
    });
    expect(own(550e-9)[0]).toBeCloseTo(0.4, 9);
    expect(own(450e-9)[0]).toBe(0);
    const colours = {
      ...traits,
      response: [
        [500e-9, 0.3, 0.6, 0.9],
        [600e-9, 0.3, 0.6, 0.9],
      ],
    };
    expect(responseOf(colours)(550e-9)[0]).toBeCloseTo(0.6, 9);
    const [red, green, blue] = responseOf({ ...colours, filter: "bayer" })(550e-9);
    expect(red).toBeCloseTo(0.3, 12);
    expect(green).toBeCloseTo(0.6, 12);
    expect(blue).toBeCloseTo(0.9, 12);
  });

  it("keeps its hot pixels from picture to picture, with leaks of the stated mean", () => {
    const large = { ...camera, columns: 400, rows: 400, readNoise: 0 };
    const hot = { ...large, sensor: { ...traits, hotPixels: 0.01, hotCurrent: 20000 } };
    const dark = new Float32Array(160000);
    const first = record(dark, hot, seen, 1).samples;
    const again = record(dark, hot, seen, 2).samples;
    const black = Math.round(0.01 * 65535);
    const lit = (samples: ArrayLike<number>): number[] =>
      Array.from(samples).flatMap((v, p) => (v > black + 300 ? [p] : []));
    const both = lit(first).filter((p) => again[p] > black + 100);
    expect(both.length / lit(first).length).toBeGreaterThan(0.99);
    expect(lit(first).length / 1600).toBeGreaterThan(0.9);
    const sum = (electrons(first) * 160000) / 1600;
    expect(Math.abs(sum / 2000 - 1)).toBeLessThan(0.1);
    expect(record(dark, { ...hot, sensor: { ...hot.sensor, chip: 2 } }, seen, 1).samples).not.toEqual(first);
    expect(record(dark, { ...hot, rate: 0 }, seen, 1).samples).toEqual(first);
  });

  it("adds dark current and stores the converter's steps, gamma after them", () => {
    const dark = { ...camera, sensor: { ...traits, darkCurrent: 1e4 } };
    expect(electrons(record(even, dark, seen).samples) / 6000).toBeCloseTo(1, 2);
    const coarse = { ...camera, sensor: { ...traits, converterBits: 8 } };
    const steps = new Set(record(even, coarse, seen).samples);
    for (const value of steps) expect(value % 257).toBe(0);
    const curved = record(even, { ...coarse, gamma: 2, bitDepth: 8 }, seen).samples;
    for (const value of new Set(curved)) {
      const level = (value / 255) ** 2 * 255;
      expect(Math.abs(level - Math.round(level))).toBeLessThan(0.5);
    }
    expect(curved[0]).toBeLessThan(256);
  });

  it("turns a mosaic of one colour into that colour everywhere", () => {
    const samples = new Uint16Array(36);
    for (let r = 0; r < 6; r++)
      for (let c = 0; c < 6; c++) samples[r * 6 + c] = [100, 2000, 30000][(r & 1) + (c & 1)];
    const colours = demosaic({ columns: 6, rows: 6, channels: 1, depth: 16, samples });
    for (let p = 0; p < 36; p++)
      expect([...colours.samples.slice(3 * p, 3 * p + 3)]).toEqual([100, 2000, 30000]);
    expect(demosaic(colours)).toBe(colours);
    const view = mosaicView(
      { columns: 6, rows: 6, channels: 1, depth: 16, samples },
      { ...camera, blackLevel: 0 },
    );
    expect(view[2]).toBeGreaterThan(view[1]);
    expect(view[3]).toBe(255);
  });
});

describe("a blur that changes from colour to colour", () => {
  it("keeps the light, spreads by a box of the stated width, and leaves sharp columns alone", () => {
    const light = new Float32Array(31 * 31);
    light[15 * 31 + 15] = 1;
    light[15 * 31 + 4] = 1;
    const height = new Float32Array(31);
    const width = new Float32Array(31);
    height[15] = 5;
    width[15] = 7;
    soften(light, { height, width }, { columns: 31, rows: 31 });
    expect(light[15 * 31 + 4]).toBe(1);
    expect(light.reduce((s, v) => s + v, 0)).toBeCloseTo(2, 6);
    expect(light[15 * 31 + 15]).toBeCloseTo(1 / 35, 6);
    expect(light[13 * 31 + 12]).toBeCloseTo(1 / 35, 6);
    expect(light[12 * 31 + 15]).toBe(0);
  });
});

describe("signal along the curve", () => {
  it("has the noise of its electrons, and tells the height as repeated pictures do", () => {
    const columns = 8;
    const rows = 60;
    const light = new Float32Array(columns * rows);
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < columns; c++)
        light[r * columns + c] = 0.8 * Math.exp(-((r + 0.5 - 30.3) ** 2) / 18);
    const small = { ...camera, columns, rows, blackLevel: 0.02 };
    const signal = signalAlong(light, small);
    const peak = 8000 * Math.exp(-(0.2 ** 2) / 18);
    expect(signal.electrons[3] / peak).toBeCloseTo(1, 4);
    expect(signal.signalToNoise[3]).toBeCloseTo(peak / Math.sqrt(peak + 9), 1);
    expect(signal.row[3]).toBe(30.5);
    // Centroids over the same rows, from 200 pictures of eight columns.
    const brightest = Math.max(...light);
    const found: number[] = [];
    for (let seed = 0; seed < 200; seed++) {
      const { samples } = expose(light, small, seed);
      for (let c = 0; c < columns; c++) {
        let sum = 0;
        let moment = 0;
        for (let r = 0; r < rows; r++) {
          if (light[r * columns + c] < 1e-3 * brightest) continue;
          const n = (samples[r * columns + c] / 65535 - 0.02) / 0.98;
          sum += n;
          moment += n * (r + 0.5);
        }
        found.push(moment / sum);
      }
    }
    const middle = mean(found);
    const spread = Math.sqrt(mean(found.map((v) => (v - middle) ** 2)));
    expect(Math.abs(spread / signal.heightError[3] - 1)).toBeLessThan(0.06);
    expect(signalAlong(new Float32Array(columns * rows), small).heightError[0]).toBe(Infinity);
  });
});

describe("an audience", () => {
  const screen = { width: 0.3, distance: 4, reflectance: 0.8 };

  it("gets the sensor's irradiance spread over the screen, weighted as the eye weighs it", () => {
    const view = audienceOf(path, map, camera, screen);
    const k = 32;
    // Written out: L of a 3800 K black body at 550 nm, band 20 µm · 5e-6, (20/300)² sr, ten faces at 0.957, (0.3 m/0.3 mm)² of enlargement, V(550) = 0.995.
    const w = 550e-9;
    const radiance = (2 * 6.62607e-34 * 2.997925e8 ** 2) / w ** 5 / (Math.exp(1.438777e-2 / (w * 3800)) - 1);
    const lux = (683 * 0.995 * radiance * 1e-10 * (0.02 / 0.3) ** 2 * 0.957 ** 10) / 1000 ** 2;
    expect(view.wavelength[k] / w).toBeCloseTo(1, 9);
    expect(view.illuminance[k] / lux).toBeCloseTo(1, 3);
    expect(view.luminance[k] / ((0.8 * lux) / Math.PI)).toBeCloseTo(1, 3);
    // CIE 1931 at 550 nm: x = 0.3016, y = 0.6923.
    expect(view.x[k]).toBeCloseTo(0.3016, 3);
    expect(view.y[k]).toBeCloseTo(0.6923, 3);
    expect(view.lineMinutes).toBeCloseTo((view.lineThickness / 4 / Math.PI) * 180 * 60, 6);
  });

  it("is told how its eyes adapt, and which slits would serve it", () => {
    const dim = audienceOf(path, map, camera, screen);
    expect(["rods", "both", "nothing"]).toContain(dim.adaptation);
    expect(dim.findings.join(" ")).toMatch(/camera's picture instead/);
    const close = audienceOf(path, map, camera, { ...screen, width: 1e-3 });
    expect(close.adaptation).toBe("cones");
    const slits = slitsForAudience(path, map, camera, screen, dim);
    if (slits.plumbSlit === undefined) throw new Error("no slit");
    const wide = { ...path, plumbSlit: slits.plumbSlit, levelSlit: slits.levelSlit };
    const bright = audienceOf(wide, spectralMap(wide), camera, screen);
    expect(bright.brightest.illuminance).toBeCloseTo(slits.illuminance, 6);
    expect(bright.lineMinutes).toBeGreaterThan(0.6);
  });
});
