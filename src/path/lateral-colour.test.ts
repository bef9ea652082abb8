import { describe, expect, it } from "vitest";
import type { LensInput } from "./api.ts";
import { focalShift, focusBlur } from "./focus.ts";
import { colourSize } from "./lateral-colour.ts";
import { spectralMap } from "./spectral-map.ts";
import { throughBench } from "./through-bench.ts";
import { plainBench } from "./testing/plain-bench.ts";
import { USUAL_RAIL } from "./usual-rail.ts";

const base = plainBench({
  secondCollimatorFocalLength: 0.25,
  cameraFocalLength: 0.4,
  disperser: { kind: "grating", groovesPerMetre: 6e5, order: 1 },
  beamSize: 4e-3,
});
const lens: LensInput = { kind: "singlet", glass: "517642" };
const focusing: LensInput = {
  kind: "table",
  which: "focusing",
  table: [
    [450e-9, 0.294],
    [550e-9, 0.3],
    [650e-9, 0.303],
  ],
};

describe("size of colours", () => {
  it("is alike where nothing is asked for, or no lens changes", () => {
    expect(colourSize({ ...base, lens }, 0.4)).toBeUndefined();
    expect(colourSize({ ...base, lateralColour: { kind: "lenses" } }, 0.4)).toBeUndefined();
  });

  it("ends the colours where the index of the lenses' glass does", () => {
    const dense: LensInput = { kind: "achromat", crown: "517642", flint: "785258" };
    const map = spectralMap({ ...base, lens: dense, lateralColour: { kind: "lenses" } });
    expect(map.reach.shortest).toBeCloseTo(390e-9, 15);
    expect(map.reach.leftLimit).toMatch(/index is known/);
    expect(spectralMap({ ...base, lens: dense }).reach.shortest).toBeLessThan(390e-9);
  });

  it("one lens, by hand: light that turns d before it lands F·(1 + (d/F)·(1 − F/f)) from the axis", () => {
    const size = colourSize({ ...base, lens: focusing, lateralColour: { kind: "lenses" } }, 0.45)!;
    expect(size.height(550e-9)).toBeCloseTo(1, 12);
    for (const [w, f] of [
      [450e-9, 0.294],
      [650e-9, 0.303],
    ])
      expect(size.height(w)).toBeCloseTo(1 + (0.45 / 0.3) * (1 - 0.3 / f), 9);
    expect(size.width(450e-9)).toBeCloseTo(1, 12);
  });

  it("camera lens alone: light turned in the disperser, d before it, is drawn 1 + (d/f₄)(1 − f₄/f) wide", () => {
    const camera: LensInput = {
      ...focusing,
      which: "camera",
      table: [
        [450e-9, 0.392],
        [550e-9, 0.4],
      ],
    };
    const path = { ...base, lens: camera, lateralColour: { kind: "lenses" } } as const;
    const d = USUAL_RAIL.disperserToCamera + 0.008 / 2;
    const wanted = 1 + (d / 0.4) * (1 - 0.4 / 0.392);
    expect(colourSize(path, 0.45)!.width(450e-9)).toBeCloseTo(wanted, 9);
    const map = spectralMap(path);
    expect(map.position(450e-9) / spectralMap(base).position(450e-9)).toBeCloseTo(wanted, 9);
    expect(map.wavelengthAt(map.position(450e-9))).toBeCloseTo(450e-9, 15);
  });

  it("a stated share moves each colour's height by just that", () => {
    const path = { ...base, lateralColour: { kind: "stated", perWavelength: 1e5 } } as const;
    const sizes = Float64Array.from([500e-9, 550e-9], (w) => colourSize(path, 0)!.height(w));
    const bundle = {
      wavelengths: Float64Array.of(500e-9, 550e-9),
      weights: Float64Array.of(1),
      deflection: Float64Array.of(1e-3, 1e-3),
      transmission: Float64Array.of(1, 1),
    };
    const through = throughBench(bundle, path, { heights: Float64Array.of(0), edges: {}, hot: true, sizes });
    expect(through.deflection[0]).toBeCloseTo(1e-3 * 0.995, 12);
    expect(through.deflection[1]).toBeCloseTo(1e-3, 15);
  });
});

describe("a measured focal length", () => {
  it("blurs as its table says: the lens that was measured, or all alike", () => {
    const shift = focalShift(focusing, 550e-9);
    expect(shift(450e-9)).toBeCloseTo(-0.02, 12);
    expect(shift(400e-9)).toBeCloseTo(-0.02, 12);
    const wavelengths = Float64Array.of(450e-9, 550e-9);
    const one = focusBlur({ ...base, lens: focusing }, wavelengths, 1e-9)!;
    // 6 mm out of focus at the plumb slit, cone 4/300, relayed 1.6 times; nothing across.
    expect(one.height[0]).toBeCloseTo(0.02 * 0.3 * (4 / 300) * 1.6, 9);
    expect(one.width[0]).toBe(0);
    const all = focusBlur({ ...base, lens: { ...focusing, which: "all" } }, wavelengths, 1e-9)!;
    expect(all.height[0]).toBeGreaterThan(3 * one.height[0]);
    expect(all.width[0]).toBeGreaterThan(0);
  });
});
