import { describe, expect, it } from "vitest";
import { type CurveBundle, coldBundle, type ImageScale, type PathInput, spectralMap } from "../path/index.ts";
import { FATES } from "./fates.ts";
import { columnShares, ledger, ledgerTotals } from "./ledger.ts";
import { renderLight } from "./light.ts";

const sensor = { pixel: 1e-5, columns: 100, rows: 80 };
const map = spectralMap({
  centreWavelength: 500e-9,
  disperser: { kind: "linear", wavelengthPerLength: 1e-5 },
} as PathInput);
const scale: ImageScale = {
  perRadian: 0.5,
  levelSlitHeight: 4e-5,
  plumbSlitWidth: 2e-5,
  blurHeight: 5e-6,
  blurWidth: 5e-6,
  roll: 0,
  levelSlitTilt: 0,
  stray: 0,
};
const wavelengths = Float64Array.from({ length: 101 }, (_, i) => map.wavelengthAt((i - 50) * 8e-6));
const n = wavelengths.length;

function bundle(): CurveBundle {
  const deflection = new Float64Array(3 * n);
  const transmission = new Float64Array(3 * n);
  for (let h = 0; h < 3; h++) {
    for (let i = 0; i < n; i++) {
      const d = (i - 50.3) / 50;
      deflection[h * n + i] = (2e-5 * (1 + 0.2 * h)) / d;
      transmission[h * n + i] = Math.exp(-2e-3 / (d * d));
    }
  }
  return { wavelengths, weights: new Float64Array([0.25, 0.5, 0.25]), deflection, transmission };
}

describe("ledger", () => {
  const edges = {
    heights: new Float64Array([-2e-3, 0, 2e-3]),
    bore: { radius: 2.12e-3, toWindow: 0.15 },
    lens: { radius: 2.03e-3, distance: 0.1 },
    plumbSlit: { length: 5e-4, focalLength: 0.5 },
    fog: 0.9,
    glass: new Float64Array(n).fill(0.8),
  };

  it("puts every share of light in one place: they sum to 1 at every wavelength and over all", () => {
    const book = ledger(bundle(), scale, sensor, edges);
    for (let i = 0; i < n; i++) {
      const sum = FATES.reduce((s, fate) => s + book.shares[fate][i], 0);
      expect(Math.abs(sum - 1)).toBeLessThan(1e-12);
    }
    const totals = ledgerTotals(book, map, sensor);
    expect(Math.abs(FATES.reduce((s, fate) => s + totals[fate], 0) - 1)).toBeLessThan(1e-12);
    for (const fate of ["absorbed", "fog", "wall", "lens", "jaw", "glass", "recorded"] as const)
      expect(totals[fate]).toBeGreaterThan(0);
  });

  it("records what the renderer records, to 1e-6 of the light that came in", () => {
    const curves = bundle();
    // Nothing may leave the sensor here: the branches are held inside it.
    for (let i = 0; i < curves.deflection.length; i++)
      curves.deflection[i] = Math.max(-5e-4, Math.min(5e-4, curves.deflection[i]));
    const totals = ledgerTotals(ledger(curves, scale, sensor), map, sensor);
    const sum = (light: Float32Array): number => light.reduce((s, v) => s + v, 0);
    const hot = sum(renderLight(curves, map, scale, sensor));
    const cold = sum(renderLight(coldBundle(wavelengths), map, scale, sensor));
    expect(Math.abs(hot / cold - totals.recorded)).toBeLessThan(1e-6);
    expect(Math.abs(totals.recorded + totals.absorbed - 1)).toBeLessThan(1e-12);
  });

  it("gives each column its shares, stacked, and nothing where no light falls", () => {
    const { upTo, lit } = columnShares(ledger(bundle(), scale, sensor, edges), map, sensor);
    expect([lit[0], lit[50], lit[99]]).toEqual([0, 1, 0]);
    const stack = [...upTo.subarray(50 * FATES.length, 51 * FATES.length)];
    expect(stack[0]).toBeCloseTo(1, 12);
    expect(stack).toEqual([...stack].sort((a, b) => b - a));
  });
});
