import { describe, expect, it } from "vitest";
import type { PathInput } from "./api.ts";
import { coloursPassed, lossSteps } from "./bench-losses.ts";
import { disperserLoss } from "./disperser-loss.ts";
import { darkeningOf } from "./glass-absorption.ts";
import { lensThickness } from "./lens-glass.ts";
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

const beam = Math.max(path.beamSize, path.beamWidth);

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
    const glass = (ways: number): number =>
      Math.exp(-ways * (darkeningOf("517642")(587.6e-9) + darkeningOf("620364")(587.6e-9)));
    const [longer, shorter] = [0.4, 0.3].map((f) => lensThickness(f, beam, 1.5168));
    expect(share(pair, "lenses", 587.6e-9)).toBeCloseTo(one ** 4 * glass(3 * shorter + longer), 4);
    expect(share({ ...pair, mirrorCollimator: true }, "lenses", 587.6e-9)).toBeCloseTo(
      one ** 3 * glass(2 * shorter + longer),
      4,
    );
  });

  it("absorption inside windows and lenses: Beer's law over their thickness, and the flint darkens the violet", () => {
    const bench = { ...path, eachColour: true, windowGlass: "620364" };
    const dark = darkeningOf("620364");
    const window = (windowThickness: number, w: number): number =>
      share({ ...bench, windowThickness }, "windows", w);
    for (const w of [400e-9, 550e-9])
      expect(window(5e-3, w) / window(0, w)).toBeCloseTo(Math.exp(-2 * 5e-3 * dark(w)), 12);
    expect(window(5e-3, 400e-9) / window(0, 400e-9)).toBeLessThan(window(5e-3, 550e-9) / window(0, 550e-9));
    // Half width 3 mm, focal length 300 mm: 2 mm at the edge and 9e-6/(0.6 · 0.62) m of sphere.
    const lens = { ...bench, lens: { kind: "singlet", glass: "620364" } as const, mirrorCollimator: true };
    expect(lensThickness(0.3, 4e-3, 1.62)).toBeCloseTo(2.0242e-3, 7);
    // Index of 620364 at the h line, 404.66 nm in air: 1.65064 (maker's catalogue). Two lenses of 300 mm, one of 400 mm.
    const faces = (1 - ((1.65064 - 1) / (1.65064 + 1)) ** 2) ** 6;
    const ways = 2 * lensThickness(0.3, beam, 1.65064) + lensThickness(0.4, beam, 1.65064);
    expect(share(lens, "lenses", 404.77e-9)).toBeCloseTo(faces * Math.exp(-dark(404.77e-9) * ways), 5);
  });

  it("walls of a hollow prism: four faces of Fresnel, water inside, square on", () => {
    const prismWalls = { glass: "517642", thickness: 2e-3, incidence: 0, emergence: 0, liquidIndex: 1.333 };
    const [n, r] = [1.5167, (a: number, b: number): number => 1 - ((a - b) / (a + b)) ** 2];
    const name = "walls of the hollow prism";
    const level = share({ ...path, eachColour: true, prismWalls }, name, 589.3e-9);
    expect(level).toBeCloseTo(
      (r(1, n) * r(n, 1.333)) ** 2 * Math.exp(-4e-3 * darkeningOf("517642")(589.3e-9)),
      4,
    );
    const oblique = { ...prismWalls, incidence: 0.7, emergence: -0.7 };
    expect(share({ ...path, eachColour: true, prismWalls: oblique }, name, 589.3e-9)).toBeLessThan(level);
    expect(lossSteps({ ...path, eachColour: true, prismWalls }).map((step) => step.name)).not.toContain(
      "windows",
    );
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
