import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { perAtom } from "../medium/index.ts";
import { spectralMap } from "../path/index.ts";
import { expose, type Frame } from "../picture/index.ts";
import { forecast, overrideSetup, parseJsonObject, parseSetup } from "../setup/index.ts";
import { readDarkLines } from "./index.ts";

const setup = benchSetup(["medium.structure=merged", "medium.gasWidth=2 GHz"]);
const map = spectralMap(setup.path);
const { columns, rows, pixel } = setup.camera;
const TEMPERATURE = 600;

/** A band of light with the vapour's lines in it, drawn finely and blurred by the spectrograph; thin vapour, so that the self-width is nil. */
function spectrum(column: number, seed: number): Frame {
  const fine = 40;
  const wavelengths = Float64Array.from({ length: columns * fine }, (_, i) =>
    map.wavelengthAt(((i + 0.5) / fine - columns / 2) * pixel),
  );
  const { crossSection } = perAtom(
    {
      element: "K",
      density: 1e15,
      temperature: TEMPERATURE,
      structure: "merged",
      overrides: { gasWidth: 2e9 },
      gas: { species: "Ar", pressure: 1730 },
    },
    wavelengths,
  );
  const left = new Float64Array(columns);
  for (let i = 0; i < wavelengths.length; i++)
    left[Math.floor(i / fine)] += Math.exp(-crossSection[i] * column) / fine;
  const light = new Float32Array(columns * rows);
  for (let c = 0; c < columns; c++) {
    // Blur of 2 pixels, by its three nearest neighbours on either side.
    let sum = 0;
    let weight = 0;
    for (let k = -6; k <= 6; k++) {
      const w = Math.exp(-0.5 * (k / 2) ** 2);
      sum += w * left[Math.min(columns - 1, Math.max(0, c + k))];
      weight += w;
    }
    for (let r = 80; r < 150; r++) light[r * columns + c] = (sum / weight) * (0.8 + (0.2 * c) / columns);
  }
  return expose(light, setup.camera, seed);
}

describe("dark lines", () => {
  it.each([1e16, 1e18])(
    "column %s m-2: density, separation, and the blur makes no difference",
    (column) => {
      const found = readDarkLines({
        picture: spectrum(column, 3),
        reference: spectrum(0, 4),
        temperature: TEMPERATURE,
        setup,
      });
      expect(found.lines).toHaveLength(2);
      for (const line of found.lines) {
        const density = line.columnDensity!;
        const sigmas = Math.abs(density.value - column) / density.standardUncertainty;
        expect(sigmas < 4 || Math.abs(density.value / column - 1) < 0.03).toBe(true);
        expect(Math.abs(line.wavelength.value - line.published)).toBeLessThan(
          4 * line.wavelength.standardUncertainty + 2e-12,
        );
      }
      // Published: 769.8965 − 766.4899 nm in air; in vacuum 3.4075 nm.
      expect(Math.abs(found.separation!.value - 3.4075e-9)).toBeLessThan(
        4 * found.separation!.standardUncertainty + 5e-12,
      );
      expect(found.lines[0].equivalentWidth.value).toBeGreaterThan(found.lines[1].equivalentWidth.value);
      // Dense vapour, wings alone: the width goes with the square root of the column.
      if (column === 1e18) expect(Math.abs(found.lines[0].growth! - 0.5)).toBeLessThan(0.01);
    },
    120_000,
  );

  it("a forecast flame, its pair half blended: the column within two of its standard deviations", () => {
    const root = join(import.meta.dirname, "../..");
    const demo = parseJsonObject(readFileSync(join(root, "examples/flame-sodium.json"), "utf8"), "flame");
    const flame = parseSetup(overrideSetup(demo, ["vessel.flameHeight=0 mm", "path.beamSize=1 mm"]));
    const { frame, vapour } = forecast(flame);
    const found = readDarkLines({ picture: frame, setup: flame });
    expect(found.lines).toHaveLength(2);
    for (const { columnDensity } of found.lines) {
      const off = columnDensity!.value - vapour.middle.columnDensity;
      expect(Math.abs(off)).toBeLessThan(2 * columnDensity!.standardUncertainty);
      // The scale of the setup is good to 2 %, the column of strong lines to twice that.
      expect(columnDensity!.standardUncertainty / columnDensity!.value).toBeLessThan(0.06);
    }
    // Both lines reach to the edges of their stretches, which are longer on the outer sides: their plain moments lay 40 pm
    // too far apart. In vacuum 597.23 pm; gas moves each by about 2 pm, both alike within 0.3.
    expect(Math.abs(found.separation!.value - 597.23e-12)).toBeLessThan(2e-12);
  });

  it("without a reference frame, and without any line seen", () => {
    const found = readDarkLines({ picture: spectrum(1e18, 5), temperature: TEMPERATURE, setup });
    expect(Math.abs(found.lines[0].columnDensity!.value / 1e18 - 1)).toBeLessThan(0.15);
    const none = readDarkLines({ picture: spectrum(0, 6), temperature: TEMPERATURE, setup });
    expect(none.separation).toBeNull();
  }, 120_000);

  it("a picture without light is refused", () => {
    const dark: Frame = { columns, rows, channels: 1, depth: 16, samples: new Uint16Array(columns * rows) };
    expect(() => readDarkLines({ picture: dark, setup })).toThrow(/spectrum/);
  });
});
