import { describe, expect, it } from "vitest";
import type { CurveBundle, PathInput } from "./api.ts";
import { disperserOf } from "./disperser.ts";
import { focalShift, focusBlur } from "./focus.ts";
import { imageScale } from "./image-scale.ts";
import { lightBudget } from "./light-budget.ts";
import { linePeak } from "./line-peak.ts";
import { smokeSeries } from "./smoke.ts";
import { sourceRadiance } from "./source.ts";
import { spectralMap } from "./spectral-map.ts";
import { beamDirection, benchEdges, missedEdge, throughBench } from "./through-bench.ts";
import { USUAL_RAIL } from "./usual-rail.ts";
import { plainBench } from "./testing/plain-bench.ts";

const deg = Math.PI / 180;
const base = plainBench({
  source: { kind: "halogen" },
  secondCollimatorFocalLength: 0.2,
  cameraFocalLength: 0.4,
  centreWavelength: 500e-9,
  beamSize: 0.01,
  beamWidth: 0.008,
});
const directVision: PathInput["disperser"] = {
  kind: "direct-vision",
  crown: "517642",
  flint: "728284",
  flintApex: 100 * deg,
  undeviated: 589.3e-9,
  elements: 3,
  trains: 1,
};

describe("dispersers of one's own and out of place", () => {
  it("a table of deviations gives back the map of the prism that it was measured on", () => {
    const prism = {
      ...base,
      disperser: { kind: "prism", glass: "620364", apex: 60 * deg, leastAt: 500e-9 },
    } as const;
    const bends = disperserOf(prism.disperser);
    const table = Array.from({ length: 31 }, (_, i) => [
      460e-9 + i * 3e-9,
      bends.angle(460e-9 + i * 3e-9, 0),
    ]);
    const traced = spectralMap(prism);
    const measured = spectralMap({ ...base, disperser: { kind: "table", table } });
    for (const w of [465e-9, 480e-9, 500.5e-9, 530e-9, 545e-9])
      expect(Math.abs(measured.position(w) - traced.position(w))).toBeLessThan(2e-6);
    expect(measured.smile).toBe(0);
    expect(() => measured.position(455e-9)).toThrow(/wavelength/);
  });

  it("a turned direct-vision prism moves the spectrum and keeps the camera where it was", () => {
    const still = spectralMap({ ...base, disperser: directVision });
    const turned = spectralMap({ ...base, disperser: { ...directVision, turn: 1 * deg } });
    expect(still.position(500e-9)).toBeCloseTo(0, 12);
    const moved = turned.position(500e-9);
    expect(Math.abs(moved)).toBeGreaterThan(1e-5);
    expect(turned.wavelengthAt(moved) / 500e-9).toBeCloseTo(1, 12);
    // Turning by nothing much changes in proportion.
    const little = spectralMap({ ...base, disperser: { ...directVision, turn: 0.01 * deg } });
    expect(Math.sign(little.position(500e-9))).toBe(Math.sign(moved));
    expect(Math.abs(little.position(500e-9))).toBeLessThan(Math.abs(moved) / 50);
  });

  it("a grating turned by an angle answers as one lit at that incidence, seen from where it stood", () => {
    const grating = { kind: "grating", groovesPerMetre: 1.2e6, order: 1 } as const;
    const turned = disperserOf({ ...grating, turn: 0.1 });
    // Rotated frame: light along z meets the grating at −0.1 rad; sin after = gλ − sin 0.1, measured from the turned normal.
    expect(turned.angle(500e-9, 0)).toBeCloseTo(Math.asin(0.6 + Math.sin(-0.1)) + 0.1, 12);
  });

  it("a plumb slit off its axis moves everything by its own image", () => {
    const moved = spectralMap({ ...base, plumbSlitOffset: 1e-4 });
    // The picture is stored upright: what stands to the right as the camera sees it is to the right in it.
    expect(moved.position(500e-9)).toBeCloseTo(2e-4, 12);
    expect(moved.wavelengthAt(moved.position(503e-9)) / 503e-9).toBeCloseTo(1, 12);
    expect(moved.reach.left - spectralMap(base).reach.left).toBeCloseTo(2e-4, 12);
  });

  it("a plumb slit out of plumb leans the lines and leaves the cold line level", () => {
    const lean = 0.02;
    const leaning = { ...base, plumbSlitTilt: lean };
    const map = spectralMap(leaning);
    const scale = imageScale(leaning, map);
    const [x, y] = [0.7, 1.3];
    const drawn = x * (map.position(505e-9) / spectralMap(base).position(505e-9));
    const up =
      y * (scale.perRadian / imageScale(base, spectralMap(base)).perRadian) +
      Math.tan(scale.levelSlitTilt) * drawn;
    const right = drawn * Math.cos(scale.roll) - up * Math.sin(scale.roll);
    const above = drawn * Math.sin(scale.roll) + up * Math.cos(scale.roll);
    expect(right).toBeCloseTo(x + Math.tan(lean) * y, 12);
    expect(above).toBeCloseTo(y, 12);
  });
});

describe("lenses and colour", () => {
  it("a singlet's focus follows 1/(n − 1); an achromat brings F and C together and errs least between them", () => {
    const single = focalShift({ kind: "singlet", glass: "517642" }, 587.6e-9);
    // n(F) = 1.522376, n(C) = 1.514322, n(d) = 1.5168 (catalogue): (n_d − 1)(1/(n_C − 1) − 1/(n_F − 1)).
    const expected = 0.5168 * (1 / 0.514322 - 1 / 0.522376);
    expect(Math.abs(single(656.45e-9) - single(486.27e-9) - expected)).toBeLessThan(3e-6);
    const pair = focalShift({ kind: "achromat", crown: "517642", flint: "620364" }, 587.6e-9);
    expect(Math.abs(pair(656.45e-9) - pair(486.27e-9))).toBeLessThan(1e-7);
    // Secondary spectrum of a usual pair: some 1/2000 of the focal length between F, C and the middle (common practice).
    expect(pair(486.27e-9)).toBeGreaterThan(2e-4);
    expect(pair(486.27e-9)).toBeLessThan(8e-4);
    expect(() => focalShift({ kind: "achromat", crown: "620364", flint: "517642" }, 587.6e-9)).toThrow(
      /path\.lensFlint/,
    );
  });

  it("blurs by the cone of the beam, and says nothing where every colour is sharp", () => {
    const wavelengths = Float64Array.of(490e-9, 500e-9, 510e-9);
    const blur = focusBlur({ ...base, lens: { kind: "thin", shift: 1e5 } }, wavelengths, 1e-7);
    if (blur === undefined) throw new Error("no blur");
    // Shift 1e-3 of each focal length at 490 nm: 0.6 mm before the plumb slit, magnified (0.4/0.2)² = 2.4 mm, and 0.4 + 0.2·4 = 1.2 mm behind it.
    expect(blur.height[0]).toBeCloseTo((3.6e-3 * 0.01) / 0.3 / 2, 9);
    expect(blur.width[0]).toBeCloseTo((1.2e-3 * 0.008) / 0.3 / 2, 9);
    expect(blur.height[1]).toBe(0);
    const mirrored = focusBlur(
      { ...base, mirrorCollimator: true, lens: { kind: "thin", shift: 1e5 } },
      wavelengths,
      1e-7,
    );
    expect(mirrored?.height[0]).toBeCloseTo((2.4e-3 * 0.01) / 0.3 / 2, 9);
    expect(focusBlur(base, wavelengths, 1e-7)).toBeUndefined();
    expect(focusBlur({ ...base, lens: { kind: "thin", shift: 1 } }, wavelengths, 1e-7)).toBeUndefined();
  });
});

describe("what the bench takes from the beam", () => {
  const bundle: CurveBundle = {
    wavelengths: Float64Array.of(499e-9, 500e-9, 501e-9),
    weights: Float64Array.of(0.5, 0.5),
    deflection: Float64Array.of(2e-3, 0, -2e-3, 2e-3, 0, -2e-3),
    transmission: new Float64Array(6).fill(0.8),
  };
  const heights = Float64Array.of(-4e-3, 4e-3);
  const vessel = { bore: 0.04, length: 0.8 };

  it("costs nothing where nothing is wrong", () => {
    expect(throughBench(bundle, base, { heights, edges: benchEdges(base, vessel), hot: true })).toBe(bundle);
  });

  it("cuts at lens and slit, dims by fog only while hot, and sends the beam off its axis", () => {
    const path = { ...base, lensDiameter: 0.0095, fog: 0.5 };
    const edges = benchEdges(path, vessel);
    const hot = throughBench(bundle, path, { heights, edges, hot: true });
    // 2 mrad over 0.47 m is 0.94 mm: the upper height leaves a radius of 4.75 mm upward, the lower one downward.
    const left = 0.8 * Math.exp(-0.5);
    expect([...hot.transmission].map((t) => t / left)).toEqual([1, 1, 0, 0, 1, 1]);
    expect(throughBench(bundle, { ...base, fog: 0.5 }, { heights, edges, hot: false })).toBe(bundle);
    const slit = { ...base, plumbSlitLength: 1e-3 };
    const cut = throughBench(bundle, slit, { heights, edges: benchEdges(slit, vessel), hot: true });
    expect([...cut.transmission]).toEqual([0, 0.8, 0, 0, 0.8, 0]);
    expect(missedEdge(0.05, 0, benchEdges(base, vessel))).toBe("wall");
    const direction = beamDirection({ ...base, levelSlitOffset: 3e-4 }, bundle.wavelengths);
    expect(direction?.[0]).toBeCloseTo(-1e-3, 12);
    // Fused silica, n = 1.4623 at 500 nm: a wedge of 1 mrad bends by 0.4623 mrad towards its thick edge.
    const wedged = beamDirection(
      { ...base, windowWedge: 1e-3, windowGlass: "fused-silica" },
      bundle.wavelengths,
    );
    expect(wedged?.[1]).toBeCloseTo(0.4623e-3, 6);
  });

  it("takes light from a small lamp, a small condenser, and all else", () => {
    const map = spectralMap(base);
    const budget = (path: PathInput): number =>
      lightBudget({ path, map, pixel: 4e-6, quantumEfficiency: 1 }, 500e-9).photonRate;
    const full = budget(base);
    const image = (2.5e-5 * USUAL_RAIL.condenserToSlit) / USUAL_RAIL.lampToCondenser;
    expect(budget({ ...base, source: { kind: "halogen", size: 2.5e-5 } }) / full).toBeCloseTo(
      image / 50e-6,
      9,
    );
    const cone = (2e-3 / USUAL_RAIL.condenserToSlit) * 0.3;
    expect(budget({ ...base, condenserDiameter: 2e-3 }) / full).toBeCloseTo(
      (cone / 0.01) * (cone / 0.008),
      9,
    );
    expect(budget({ ...base, otherLosses: 0.5 }) / full).toBeCloseTo(0.5, 12);
    // A round beam's diffraction differs by a little, and with it what is left in the line's middle.
    const left = (aperture: "round" | "rectangular"): number => {
      const { levelSlitHeight, blurHeight } = imageScale({ ...base, aperture }, map);
      return linePeak(levelSlitHeight, blurHeight, 4e-6);
    };
    expect(budget({ ...base, aperture: "round" }) / full).toBeCloseTo(
      (((Math.PI / 4) * 0.01) / 0.008) * (left("round") / left("rectangular")),
      9,
    );
  });
});

describe("lamps", () => {
  it("a tabulated spectrum has its stated radiance in all and nothing outside", () => {
    const spectrum = [
      [450e-9, 1],
      [500e-9, 2],
      [600e-9, 0],
    ];
    const at = Float64Array.from({ length: 2001 }, (_, i) => 440e-9 + i * 0.1e-9);
    const radiance = sourceRadiance({ kind: "table", spectrum, radiance: 7e4 }, at);
    expect(radiance[0]).toBe(0);
    expect(radiance[1990]).toBe(0);
    const sum = radiance.reduce((s, value) => s + value * 0.1e-9, 0);
    expect(Math.abs(sum / 7e4 - 1)).toBeLessThan(1e-3);
    expect(() => sourceRadiance({ kind: "table" }, at)).toThrow(/path\.source\.spectrum/);
  });

  it("cyanogen bands rise at their heads and trail off to the violet; none by default", () => {
    const at = Float64Array.of(388.46e-9, 388.44e-9, 385e-9, 460e-9);
    const plain = sourceRadiance({ kind: "carbon-arc" }, at);
    const banded = sourceRadiance({ kind: "carbon-arc", bands: 2 }, at);
    const ratio = [...banded].map((value, i) => value / plain[i]);
    expect(ratio[0]).toBeLessThan(1.5);
    expect(ratio[1]).toBeGreaterThan(2.9);
    expect(ratio[2]).toBeGreaterThan(1.3);
    expect(ratio[3]).toBeCloseTo(1, 6);
  });
});

describe("smoke", () => {
  it("flickers about its mean with the stated spread and memory, alike for one seed", () => {
    const smoke = { depth: 0.4, share: 0.3, time: 0.5 };
    const left = smokeSeries(smoke, 40000, 0.1, 3);
    expect(smokeSeries(smoke, 5, 0.1, 3)).toEqual(left.slice(0, 5));
    const depth = left.map((share) => -Math.log(share));
    const mean = depth.reduce((s, v) => s + v, 0) / depth.length;
    const spread = Math.sqrt(depth.reduce((s, v) => s + (v - mean) ** 2, 0) / depth.length);
    expect(mean).toBeCloseTo(0.4, 1);
    expect(Math.abs(spread / 0.12 - 1)).toBeLessThan(0.05);
    const log = depth.map(Math.log);
    const middle = log.reduce((s, v) => s + v, 0) / log.length;
    let product = 0;
    let square = 0;
    for (let i = 0; i + 1 < log.length; i++) {
      product += (log[i] - middle) * (log[i + 1] - middle);
      square += (log[i] - middle) ** 2;
    }
    expect(Math.abs(product / square - Math.exp(-0.2))).toBeLessThan(0.02);
  });
});
