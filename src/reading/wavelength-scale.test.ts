import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import type { Frame } from "../picture/api.ts";
import { lightOf } from "./frame-light.ts";
import { readLampFrame } from "./lamp-frame.ts";
import { lampScale, polynomial, type ScalePrior } from "./wavelength-scale.ts";

/** Argon lines in standard air, nm, moved to invented places: only their distances matter here. */
const LINES = [750.5935, 751.6721, 763.7208, 772.5887, 772.6333, 794.9178, 795.0362, 800.8359, 801.699].map(
  (nm) => nm * 1e-9,
);
const COLUMNS = 900;
const ROWS = 240;

interface Drawing {
  /** vacuum wavelengths to draw, m, with their heights */
  readonly lines: readonly { readonly wavelength: number; readonly height: number }[];
  readonly roll: number;
  readonly smile: number;
}

/** U of a wavelength on the drawn scale: 0.065 nm a pixel with a little bend. */
function alongOf(wavelength: number): number {
  const nm = wavelength * 1e9 - 778;
  return nm / 0.065 - 0.012 * nm * nm;
}

/** A lamp frame drawn pixel by pixel as Gaussians, with noise of its own generator. */
function draw({ lines, roll, smile }: Drawing): Frame {
  const random = xoroshiro128plus(7);
  const unit = (): number => ((random.next() >>> 0) + 0.5) / 4294967296;
  const normal = (): number => Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit());
  const samples = new Uint16Array(COLUMNS * ROWS);
  for (let r = 0; r < ROWS; r++) {
    for (let c = 0; c < COLUMNS; c++) {
      const x = c + 0.5 - COLUMNS / 2;
      const y = ROWS / 2 - r - 0.5;
      const u = x * Math.cos(roll) + y * Math.sin(roll);
      const v = -x * Math.sin(roll) + y * Math.cos(roll);
      let light = 0.01 + 0.002 * normal();
      for (const { wavelength, height } of lines) {
        const d = u - smile * v * v - alongOf(wavelength);
        if (Math.abs(d) < 9) light += height * Math.exp((-0.5 * d * d) / (1.5 * 1.5));
      }
      samples[r * COLUMNS + c] = Math.min(65535, Math.max(0, Math.round(light * 65535)));
    }
  }
  return { columns: COLUMNS, rows: ROWS, channels: 1, depth: 16, samples };
}

/** Off by 6 pixels and 3 %: what a vapour's own pair gives or better. */
const PRIOR: ScalePrior = {
  wavelength: (u) => (778.4 + 0.067 * u) * 1e-9,
  dispersion: 0.067e-9,
  shift: 25,
  stretch: 0.06,
};

function drawn(wavelengths: readonly number[], height = 0.4): Drawing["lines"] {
  return wavelengths.map((wavelength, i) => ({ wavelength, height: height * (1 - 0.06 * i) }));
}

function worst(
  lines: Drawing["lines"],
  roll = 0.01,
  smile = 2e-5,
): { error: number; identified: number; unknown: number } {
  const lamp = readLampFrame(lightOf(draw({ lines, roll, smile }), 1, "lamp"));
  if (lamp === null) throw new Error("no lines found");
  expect(Math.abs(lamp.geometry.roll - roll)).toBeLessThan(2e-4);
  expect(Math.abs(lamp.geometry.smile - smile)).toBeLessThan(1e-6);
  const scale = lampScale(lamp, LINES, PRIOR);
  if (scale === null) throw new Error("nothing identified");
  let error = 0;
  for (const w of LINES)
    error = Math.max(error, Math.abs(polynomial(scale.coefficients, alongOf(w) / 1000) - w));
  return {
    error: error / 0.065e-9,
    identified: scale.features.filter((f) => f.wavelengths.length > 0).length,
    unknown: scale.features.filter((f) => f.wavelengths.length === 0).length,
  };
}

describe("wavelength scale from a lamp frame", () => {
  it("finds every line and the scale to a tenth of a pixel", () => {
    const { error, unknown } = worst(drawn(LINES));
    expect(error).toBeLessThan(0.15);
    expect(unknown).toBe(0);
  });

  it("does without lines that are missing", () => {
    expect(worst(drawn([LINES[0], LINES[2], LINES[5], LINES[8]])).error).toBeLessThan(0.3);
  });

  it("leaves lines of another gas aside", () => {
    const stranger = { wavelength: 783.4e-9, height: 0.5 };
    const { error, unknown } = worst([...drawn(LINES), stranger]);
    expect(error).toBeLessThan(0.15);
    expect(unknown).toBe(1);
  });

  it("parts a blend of two lines two thirds of a pixel apart", () => {
    const { error } = worst(drawn([LINES[0], LINES[2], LINES[3], LINES[4], LINES[7], LINES[8]]));
    expect(error).toBeLessThan(0.2);
  });

  it("follows a camera rolled the other way", () => {
    expect(worst(drawn(LINES), -0.02, -1e-5).error).toBeLessThan(0.15);
  });

  it("finds nothing in a dark frame", () => {
    const dark = draw({ lines: [], roll: 0, smile: 0 });
    expect(readLampFrame(lightOf(dark, 1, "lamp"))).toBeNull();
  });
});
