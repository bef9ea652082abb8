import { describe, expect, it } from "vitest";
import type { PathInput } from "./api.ts";
import { coloursPassed, lossSteps } from "./bench-losses.ts";
import { disperserLoss } from "./disperser-loss.ts";
import { darkeningOf } from "./glass-absorption.ts";
import { plainBench } from "./testing/plain-bench.ts";

const path = plainBench({
  source: { kind: "halogen" },
  cameraFocalLength: 0.4,
  disperser: {
    kind: "direct-vision",
    crown: "517642",
    flint: "728284",
    flintApex: (100 * Math.PI) / 180,
    undeviated: 589.3e-9,
    elements: 3,
    trains: 1,
  },
  centreWavelength: 457.5e-9,
  beamSize: 4e-3,
});
const share = (input: PathInput, name: string, w: number): number =>
  lossSteps(input)
    .find((step) => step.name === name)
    ?.share(w) ?? NaN;

describe("losses counted at each colour", () => {
  it("windows: light thrown to and fro in a plane plate of index n leaves 2n/(n² + 1) of it (Stokes 1862)", () => {
    const windows = (glass: string, windowWedge = 0): number =>
      share({ ...path, eachColour: true, windowGlass: glass, windowWedge }, "windows", 589.3e-9);
    // Handbook indices at the D lines, relative to air: silica 1.4584, crown 1.5167, sapphire 1.768.
    for (const [glass, n] of [
      ["fused-silica", 1.4584],
      ["517642", 1.5167],
      ["sapphire", 1.7681],
    ] as const) {
      expect(windows(glass)).toBeCloseTo(((2 * n) / (n * n + 1)) ** 2, 4);
      expect(windows(glass, 1e-3)).toBeCloseTo((1 - ((n - 1) / (n + 1)) ** 2) ** 4, 4);
    }
  });

  it("cemented pairs lose less at the third face than at air; a mirror takes the place of a lens", () => {
    const pair = {
      ...path,
      eachColour: true,
      lens: { kind: "achromat", crown: "517642", flint: "620364" } as const,
    };
    const reflected = (a: number, b: number): number => ((a - b) / (a + b)) ** 2;
    const one = (1 - reflected(1, 1.5168)) * (1 - reflected(1.5168, 1.62)) * (1 - reflected(1, 1.62));
    expect(share(pair, "lenses", 587.6e-9)).toBeCloseTo(one ** 4, 4);
    expect(share({ ...pair, mirrorCollimator: true }, "lenses", 587.6e-9)).toBeCloseTo(one ** 3, 4);
  });

  it("glass of the prism: internal transmittance of the catalogue's 10 mm, and a train that darkens in the violet alone", () => {
    // Data sheet of 728284: internal transmittance over 10 mm 0.862 at 400 nm, 0.991 at 460 nm.
    const flint = darkeningOf("728284");
    expect(Math.exp(-flint(400e-9) * 0.01)).toBeCloseTo(0.862, 3);
    expect(Math.exp(-flint(460e-9) * 0.01)).toBeCloseTo(0.991, 3);
    const { glass } = disperserLoss(path.disperser, 4e-3);
    const length = -Math.log(glass(400e-9)) / flint(400e-9);
    // Blocks 25 mm high of 100° apex have bases of 60 mm: half of that and a little lies in the light's way.
    expect(length).toBeGreaterThan(0.025);
    expect(length).toBeLessThan(0.04);
    expect(glass(589e-9)).toBeGreaterThan(0.98);
  });

  it("a grating blazed at 600 nm sends its most there and, in first order, sinc² of half a wave to 400 nm", () => {
    const grating = {
      kind: "grating",
      groovesPerMetre: 6e5,
      order: 1,
      efficiency: 0.8,
      blaze: 600e-9,
    } as const;
    const { faces, measured } = disperserLoss(grating, 4e-3, [
      [400e-9, 0.5],
      [700e-9, 1],
    ]);
    expect(faces(600e-9)).toBeCloseTo(0.8, 12);
    expect(faces(400e-9)).toBeCloseTo(0.8 * (2 / Math.PI) ** 2, 12);
    expect(measured(400e-9)).toBe(0.5);
    expect(measured(750e-9)).toBe(0);
  });

  it("is interpolated for a picture to 1e-5 of what the steps give", () => {
    const input = { ...path, eachColour: true };
    const wavelengths = Float64Array.from({ length: 1001 }, (_, i) => (400 + 0.15 * i) * 1e-9);
    const passed = coloursPassed(input, wavelengths);
    const steps = lossSteps(input);
    for (let i = 0; i < wavelengths.length; i += 37) {
      const exact = steps.reduce((product, step) => product * step.share(wavelengths[i]), 1);
      expect(Math.abs(passed[i] / exact - 1)).toBeLessThan(1e-4);
    }
  });
});
