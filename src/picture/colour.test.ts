import { describe, expect, it } from "vitest";
import { coldBundle, imageScale, spectralMap, USUAL_RAIL } from "../path/index.ts";
import { cameraColour, falseShare, linearRgb, screenValue, spectralHue } from "./colour.ts";
import { renderLight } from "./light.ts";
import { frameOfView, lightOfFrame, viewImage } from "./view.ts";
import { createWorkspace } from "./workspace.ts";

describe("colours", () => {
  it("makes D65 white and sRGB's luminance weights", () => {
    // IEC 61966-2-1: white (0.9505, 1, 1.0890) to (1, 1, 1); XYZ of green alone has Y = 0.7152.
    for (const v of linearRgb([0.9505, 1, 1.089])) expect(v).toBeCloseTo(1, 3);
    const green = linearRgb([0.3576, 0.7152, 0.1192]);
    for (const c of [0, 1, 2]) expect(green[c]).toBeCloseTo(c === 1 ? 1 : 0, 3);
  });

  it("gives each part of the spectrum its hue", () => {
    const [r, g, b] = spectralHue(460e-9);
    expect(b).toBe(1);
    expect(g).toBeLessThan(0.1);
    expect(r).toBeLessThan(0.5);
    expect(spectralHue(530e-9)[1]).toBe(1);
    expect(spectralHue(640e-9)[0]).toBe(1);
    for (let nm = 360; nm < 900; nm += 3) {
      const hue = spectralHue(nm * 1e-9);
      expect(Math.min(...hue)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...hue)).toBeLessThanOrEqual(1);
      expect(Math.max(...hue)).toBeGreaterThan(0.85);
    }
  });

  it("lifts dark hues with white alone, and leaves bright ones", () => {
    // Luminance weights of IEC 61966-2-1.
    const luminance = ([r, g, b]: readonly number[]): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
    for (let nm = 400; nm <= 700; nm += 5) {
      const hue = spectralHue(nm * 1e-9);
      const drawn = cameraColour(nm * 1e-9);
      expect(luminance(drawn)).toBeCloseTo(Math.max(0.2, luminance(hue)), 3);
      // White added: what each part lacks of 1 shrinks by one and the same share.
      const kept = hue.map((part, i) => [1 - part, 1 - drawn[i]]).filter(([lack]) => lack > 1e-6);
      const share = kept.map(([lack, left]) => left / lack);
      for (const each of share) expect(each).toBeCloseTo(share[0], 9);
    }
    expect(cameraColour(550e-9)).toEqual(spectralHue(550e-9));
  });

  it("says how false a colour is", () => {
    expect([380, 410, 550, 699, 800].map((nm) => falseShare(nm * 1e-9))).toEqual([1, 0, 0, 0, 1]);
  });

  it("follows the screen's curve of IEC 61966-2-1", () => {
    expect(screenValue(0.0031308)).toBeCloseTo(0.04045, 5);
    expect(screenValue(0.2140411)).toBeCloseTo(0.5, 6);
    expect([screenValue(-1), screenValue(2)]).toEqual([0, 1]);
  });
});

describe("viewImage", () => {
  const sensor = { pixel: 1e-5, columns: 40, rows: 20 };
  const path = {
    source: { kind: "flat" },
    levelSlit: 5e-5,
    plumbSlit: 3e-5,
    collimatorFocalLength: 0.5,
    focalLength: 0.5,
    secondCollimatorFocalLength: 0.3,
    cameraFocalLength: 0.3,
    disperser: { kind: "linear", wavelengthPerLength: 1e-3 },
    centreWavelength: 550e-9,
    beamHeight: 0,
    beamSize: 4e-3,
    beamWidth: 4e-3,
    stray: 0,
    cameraRoll: 0,
    levelSlitTilt: 0,
    defocus: 0,
    inverted: false,
    rail: USUAL_RAIL,
  } as const;
  const map = spectralMap(path);

  it("is black where no light is, full where there is, blue on the left and red on the right", () => {
    const light = new Float32Array(800);
    light.fill(1, 400, 440);
    const view = viewImage(light, map, sensor);
    expect([...view.subarray(0, 4)]).toEqual([0, 0, 0, 255]);
    const at = (c: number): number[] => [...view.subarray((10 * 40 + c) * 4, (10 * 40 + c) * 4 + 3)];
    expect(at(9)[2]).toBe(255);
    expect(at(20)[1]).toBe(255);
    expect(at(30)[0]).toBe(255);
    // 655 nm is red with a trace of blue, and a full pixel has white in it besides (decision 0404): 120 on the screen is a fifth of the red in light.
    expect(at(30)[2]).toBeLessThan(120);
    const grey = viewImage(light, map, sensor, { colours: "grey", white: 2 });
    const middle = [...grey.subarray(1640, 1643)];
    expect(new Set(middle).size).toBe(1);
    expect(middle[0]).toBe(Math.round(255 * screenValue(0.5)));
    const eye = viewImage(light, map, sensor, { colours: "eye" });
    expect(eye[(10 * 40 + 1) * 4 + 2]).toBeLessThan(150);
    expect(frameOfView(view, 40, 20).samples.length).toBe(2400);
    expect(imageScale(path, map).perRadian).toBeCloseTo(0.5, 12);
  });

  it("gives the same bytes with a workspace's kernel, from light of its own or lying in it", () => {
    const big = { pixel: 1e-5, columns: 37, rows: 25 };
    const workspace = createWorkspace();
    expect(workspace.kernel).toBeDefined();
    const light = Float32Array.from({ length: 37 * 25 }, (_, p) => Math.max(0, Math.sin(p / 9) * 1.2) ** 4);
    light.copyWithin(5 * 37, 3 * 37, 5 * 37);
    for (const options of [
      { white: 0.8 },
      { colours: "eye", roll: 0.3 },
      { colours: "grey", roll: -0.2 },
    ] as const) {
      const plain = viewImage(light, map, big, options);
      expect(viewImage(light, map, big, { ...options, workspace })).toEqual(plain);
      const into = new Uint8ClampedArray(4 * light.length);
      viewImage(light, map, big, { ...options, workspace, into });
      expect(into).toEqual(plain);
    }
    // A fresh workspace must grow for the colours, while the light lies in it.
    const fresh = createWorkspace();
    const wavelengths = Float64Array.from({ length: 50 }, (_, i) => (350 + 8 * i) * 1e-9);
    const options = { workspace: fresh, into: "workspace" } as const;
    const lying = renderLight(coldBundle(wavelengths), map, imageScale(path, map), big, options);
    const copy = lying.slice();
    expect(viewImage(lying, map, big, { workspace: fresh, roll: 0.5 })).toEqual(
      viewImage(copy, map, big, { roll: 0.5 }),
    );
    expect(Math.max(...copy)).toBeGreaterThan(0.9);
  });

  it("draws a pixel paler, in its own hue, as it fills", () => {
    const light = new Float32Array(800);
    light[410] = 0.2;
    light[450] = 1;
    const view = viewImage(light, map, sensor);
    const parts = (p: number): number[] => [...view.subarray(4 * p, 4 * p + 3)];
    const [faint, full] = [parts(410), parts(450)];
    // The same column: blue leads in both; the weakest part gains on it.
    expect(faint[2]).toBe(Math.max(...faint));
    expect(full[2]).toBe(255);
    const linear = (v: number): number => (v <= 10 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
    const weakest = (of: number[]): number => linear(Math.min(...of)) / linear(Math.max(...of));
    expect(weakest(full) - weakest(faint)).toBeGreaterThan(0.03);
  });

  it("brings a stored frame back to light", () => {
    const samples = Uint8Array.from([0, 128, 255]);
    const light = lightOfFrame({ columns: 3, rows: 1, channels: 1, depth: 8, samples }, 2.2, 0);
    expect(light[1]).toBeCloseTo((128 / 255) ** 2.2, 6);
    expect(light[2]).toBe(1);
    const rgb = Uint16Array.from([65535, 0, 0]);
    expect(lightOfFrame({ columns: 1, rows: 1, channels: 3, depth: 16, samples: rgb }, 1, 0)[0]).toBeCloseTo(
      1 / 3,
      6,
    );
  });
});
