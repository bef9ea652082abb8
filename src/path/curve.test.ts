import { describe, expect, it } from "vitest";
import type { PerAtom } from "../medium/api.ts";
import type { BeamColumns } from "../vessel/api.ts";
import { beamStrips, coldBundle, curveBundle } from "./curve-bundle.ts";
import { curveGrid } from "./curve-grid.ts";
import { imageScale } from "./image-scale.ts";
import { spectralMap } from "./spectral-map.ts";
import { plainBench } from "./testing/plain-bench.ts";

const path = plainBench({
  collimatorFocalLength: 0.25,
  focalLength: 0.5,
  cameraFocalLength: 0.6,
  disperser: { kind: "linear", wavelengthPerLength: 2e-6 },
  centreWavelength: 768e-9,
  beamHeight: 1e-3,
  beamSize: 4e-3,
  beamWidth: 8e-3,
  defocus: 3e-6,
});
const map = spectralMap(path);

/** One classical line: (n−1)/N = a/Δλ, σ = b/Δλ². */
function line(wavelengths: Float64Array): PerAtom {
  return {
    refractivityPerDensity: wavelengths.map((w) => 1e-36 / (w - 768.3e-9 || 1e-20)),
    crossSection: wavelengths.map((w) => 1e-40 / ((w - 768.3e-9) ** 2 + 1e-26)),
  };
}

describe("imageScale", () => {
  it("multiplies focal lengths as thin lenses do", () => {
    const scale = imageScale(path, map);
    expect(scale.perRadian).toBeCloseTo(1, 12);
    expect(scale.levelSlitHeight).toBeCloseTo(50e-6 * (0.5 / 0.25) * 2, 12);
    expect(scale.plumbSlitWidth).toBeCloseTo(40e-6, 12);
    expect(imageScale({ ...path, inverted: true }, map).perRadian).toBeCloseTo(-1, 12);
    // sinc² of a 4 mm beam: full width at half maximum 0.8859 λ/a; a Gaussian's is 2.3548 σ.
    const diffraction = (0.8859 / 2.3548) * (768e-9 / 4e-3);
    expect(scale.blurHeight).toBeCloseTo(Math.hypot(3e-6, diffraction), 8);
    expect(scale.blurWidth).toBeCloseTo(Math.hypot(3e-6, diffraction / 2), 8);
    expect(imageScale(path, map, { diffraction: false }).blurHeight).toBe(3e-6);
  });
});

describe("curveBundle", () => {
  const columns: BeamColumns = {
    heights: new Float64Array([0, 1e-3]),
    columnDensity: new Float64Array([1e19, 2e19]),
    columnGradient: new Float64Array([-1e21, -2e21]),
    gasColumnGradient: new Float64Array([3e24, 4e24]),
    effectiveDensity: new Float64Array([1e20, 2e20]),
    effectiveTemperature: new Float64Array([400, 400]),
    supersaturation: new Float64Array([1, 1]),
  };
  const wavelengths = new Float64Array([768.2e-9, 768.4e-9]);
  const weights = new Float64Array([0.5, 0.5]);

  it("bends by κ·G plus the gas and dims by exp(−σC), height by height", () => {
    const atom = line(wavelengths);
    const bundle = curveBundle({
      wavelengths,
      perAtom: atom,
      columns,
      weights,
      gasRefractivityPerDensity: 1e-29,
    });
    expect(bundle.deflection[0]).toBeCloseTo(1e-5 + 3e-5, 10);
    expect(bundle.deflection[3]).toBeCloseTo(-2e-5 + 4e-5, 10);
    expect(bundle.transmission[2]).toBeCloseTo(Math.exp(-2e19 * atom.crossSection[0]), 12);
    // Dense below (gradient < 0): the red side bends down, the blue side up, apart from the gas.
    const vapour = curveBundle({
      wavelengths,
      perAtom: atom,
      columns,
      weights,
      gasRefractivityPerDensity: 0,
    });
    expect(vapour.deflection[0]).toBeGreaterThan(0);
    expect(vapour.deflection[1]).toBeLessThan(0);
    const own = curveBundle({
      wavelengths,
      perAtom: [atom, atom],
      columns,
      weights,
      gasRefractivityPerDensity: 0,
    });
    expect(own).toEqual(vapour);
  });

  it("refuses arrays that do not agree", () => {
    const atom = line(wavelengths);
    const input = { wavelengths, perAtom: atom, columns, weights, gasRefractivityPerDensity: 0 };
    expect(() => curveBundle({ ...input, weights: new Float64Array(3) })).toThrow(/weights/);
    expect(() => curveBundle({ ...input, perAtom: [atom, atom, atom] })).toThrow(/perAtom/);
    expect(() => curveBundle({ ...input, perAtom: line(new Float64Array(5)) })).toThrow(
      /refractivityPerDensity/,
    );
  });

  it("keeps all light in a straight line when cold", () => {
    const cold = coldBundle(wavelengths);
    expect([...cold.deflection, ...cold.transmission, ...cold.weights]).toEqual([0, 0, 1, 1, 1]);
  });

  it("cuts the beam into strips whose middles average to its height", () => {
    const { heights, weights: shares } = beamStrips(path, 5);
    expect(heights[0]).toBeCloseTo(1e-3 - 1.6e-3, 12);
    expect(heights.reduce((s, v) => s + v, 0) / 5).toBeCloseTo(1e-3, 12);
    expect(shares.reduce((s, v) => s + v, 0)).toBeCloseTo(1, 12);
  });
});

describe("curveGrid", () => {
  const pixel = 10e-6;
  const input = {
    map,
    width: 800 * pixel,
    height: 500 * pixel,
    step: pixel,
    perAtom: line,
    columnDensity: 1e18,
    columnGradient: -1e23,
    perRadian: 1,
  };

  it("covers the sensor in ascending order, as even steps far from the line and small ones beside it", () => {
    const { wavelengths, perAtom } = curveGrid(input);
    for (let i = 1; i < wavelengths.length; i++) expect(wavelengths[i]).toBeGreaterThan(wavelengths[i - 1]);
    expect(wavelengths[0]).toBeLessThan(map.wavelengthAt(-input.width / 2));
    expect(wavelengths[wavelengths.length - 1]).toBeGreaterThan(map.wavelengthAt(input.width / 2));
    expect(perAtom).toEqual(line(wavelengths));
    let far = 0;
    for (let i = 1; i < wavelengths.length; i++) {
      const x = [wavelengths[i - 1], wavelengths[i]].map((w) => map.position(w) / pixel);
      const [ya, yb] = [i - 1, i].map((j) => (perAtom.refractivityPerDensity[j] * -1e23) / pixel);
      expect(x[1] - x[0]).toBeLessThan(1.001);
      if (Math.abs(x[1] - x[0] - 1) < 1e-3) far++;
      const lit = perAtom.crossSection[i] * 1e18 < 5;
      const seen = Math.max(Math.abs(ya), Math.abs(yb)) < 250;
      if (lit && seen) expect(Math.abs(yb - ya)).toBeLessThan(4.5);
    }
    expect(far).toBeGreaterThan(600);
  });

  it("stops at the reach of the disperser", () => {
    const narrow = {
      ...map,
      reach: { ...map.reach, shortest: 765e-9, left: map.position(765e-9) },
    };
    const { wavelengths } = curveGrid({ ...input, map: narrow });
    expect(wavelengths[0]).toBeCloseTo(765e-9, 15);
    const off = { ...map, reach: { ...map.reach, right: -1 } };
    expect(() => curveGrid({ ...input, map: off })).toThrow(/disperser/);
  });
});
