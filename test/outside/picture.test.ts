/** The picture against an independent renderer (numpy, direct integration): test/outside/generators/picture.py says how. */
import { describe, expect, it } from "vitest";
import { curveGrid, type ImageScale, spectralMap, strayAcross, USUAL_RAIL } from "../../src/path/index.ts";
import { type CurveBundle, renderLight } from "../../src/picture/index.ts";
import fixture from "./fixtures/picture.json" with { type: "json" };

const { case: given, light: expected } = fixture;

function theta(w: number): number {
  return given.lines.reduce((sum, line) => {
    const d = w - line.wavelength;
    return sum + (line.bend * d) / (d * d + 1e-24);
  }, 0);
}
function depth(w: number): number {
  return given.lines.reduce((sum, line) => sum + line.dark / ((w - line.wavelength) ** 2 + 1e-24), 0);
}

describe("a picture with two lines, roll, tilt, bow and stray light", () => {
  it("agrees with the independent renderer far within the shot noise of 20 000 electrons", () => {
    const map = {
      ...spectralMap({
        rail: USUAL_RAIL,
        source: { kind: "flat" },
        levelSlit: 0,
        plumbSlit: 0,
        collimatorFocalLength: 1,
        focalLength: 1,
        secondCollimatorFocalLength: 1,
        cameraFocalLength: 1,
        disperser: { kind: "linear", wavelengthPerLength: given.wavelengthPerLength },
        centreWavelength: given.centre,
        beamHeight: 0,
        beamSize: 1,
        beamWidth: 1,
        stray: 0,
        cameraRoll: 0,
        levelSlitTilt: 0,
        defocus: 0,
        inverted: false,
      }),
      smile: given.smile,
    };
    const scale: ImageScale = { ...given, blurHeight: given.blur, blurWidth: given.blur };
    const { wavelengths } = curveGrid({
      map,
      width: given.columns * given.pixel,
      height: given.rows * given.pixel,
      beyond: strayAcross(scale, given.rows * given.pixel),
      step: given.pixel,
      perAtom: (at) => ({ refractivityPerDensity: at.map(theta), crossSection: at.map(depth) }),
      columnDensity: 1,
      columnGradient: 1,
      perRadian: given.perRadian,
    });
    const n = wavelengths.length;
    const bundle: CurveBundle = {
      wavelengths,
      weights: new Float64Array(given.heights).fill(1 / given.heights),
      deflection: new Float64Array(given.heights * n),
      transmission: new Float64Array(given.heights * n),
    };
    for (let h = 0; h < given.heights; h++) {
      const y = (h + 0.5) / given.heights - 0.5;
      for (let i = 0; i < n; i++) {
        bundle.deflection[h * n + i] = theta(wavelengths[i]) * (1 + given.slope * y) + 2e-5;
        bundle.transmission[h * n + i] = Math.exp(-depth(wavelengths[i]) * (1 - 0.5 * given.slope * y));
      }
    }
    const light = renderLight(bundle, map, scale, given);
    let worst = 0;
    let squares = 0;
    let sum = 0;
    let expectedSum = 0;
    for (let p = 0; p < light.length; p++) {
      const difference = light[p] - expected[p];
      // Shot noise of 20 000 electrons in the cold line's middle, with 4 electrons of read noise.
      const noise = Math.sqrt(expected[p] / 20000 + (4 / 20000) ** 2);
      worst = Math.max(worst, Math.abs(difference) / noise);
      squares += difference * difference;
      sum += light[p];
      expectedSum += expected[p];
    }
    expect(worst).toBeLessThan(1);
    expect(Math.sqrt(squares / light.length)).toBeLessThan(6e-4);
    expect(Math.abs(sum / expectedSum - 1)).toBeLessThan(5e-4);
  });
});
