import { describe, expect, it } from "vitest";
import { planckRadiance } from "./source.ts";
import { throughSpectroscope } from "./spectroscope.ts";

const flame = {
  state: {
    element: "Na",
    density: 1e18,
    temperature: 2000,
    gas: { species: "N2", pressure: 101325 },
    structure: "merged",
    overrides: {},
  },
  thickness: 0.02,
} as const;
const near = Float64Array.from({ length: 401 }, (_, i) => 589.756e-9 + (i - 200) * 2e-12);

describe("a flame before an ordinary spectroscope", () => {
  it("is dark before a hotter lamp, bright before a cooler one, gone where they are alike", () => {
    const at = (source: number) =>
      throughSpectroscope({ layers: [flame], source, resolution: 0.05e-9 }, near);
    expect(at(3200).contrast).toBeLessThan(-0.05);
    expect(at(1700).contrast).toBeGreaterThan(0.05);
    expect(Math.abs(at(2000).contrast)).toBeLessThan(1e-12);
  });

  it("loses contrast as the instrument blurs more, and keeps the area that the line takes out", () => {
    const wide = Float64Array.from({ length: 4001 }, (_, i) => 589.756e-9 + (i - 2000) * 0.5e-12);
    const area = (values: Float64Array): number => values.reduce((sum, v) => sum + (1 - v) * 0.5e-12, 0);
    const sharp = throughSpectroscope({ layers: [flame], source: 3200, resolution: 0.02e-9 }, wide);
    const soft = throughSpectroscope({ layers: [flame], source: 3200, resolution: 0.1e-9 }, wide);
    expect(Math.abs(soft.contrast)).toBeLessThan(Math.abs(sharp.contrast) / 3);
    // Far wings of the line lie outside the window in both.
    expect(Math.abs(area(soft.seen) / area(sharp.seen) - 1)).toBeLessThan(0.02);
  });

  it("fills up to the black body and no further", () => {
    const thick = { ...flame, thickness: 200 };
    const { light } = throughSpectroscope({ layers: [thick], resolution: 0 }, Float64Array.of(589.756e-9));
    expect(light[0]).toBeCloseTo(1, 9);
  });

  it("is reversed in itself by a cooler mantle, to the mantle's own black body where that is thick", () => {
    const mantle = { ...flame, state: { ...flame.state, temperature: 1500, density: 5e20 } };
    const core = { ...flame, state: { ...flame.state, density: 1e22 } };
    // Close to one line: farther out the light between the pair dips a little by itself.
    const close = near.filter((w) => Math.abs(w - 589.756e-9) < 0.1e-9);
    const plain = throughSpectroscope({ layers: [core], resolution: 1e-12 }, close);
    const covered = throughSpectroscope({ layers: [core, mantle], resolution: 1e-12 }, near);
    expect(plain.reversal).toBeLessThan(1e-3);
    expect(covered.reversal).toBeGreaterThan(0.5);
    const floor = planckRadiance(589.756e-9, 1500) / planckRadiance(589.756e-9, 2000);
    expect(Math.min(...covered.light) / floor).toBeCloseTo(1, 3);
  });

  it("refuses what is no layer", () => {
    expect(() => throughSpectroscope({ layers: [], resolution: 0 }, near)).toThrow(/layer/);
    expect(() => throughSpectroscope({ layers: [{ ...flame, thickness: 0 }], resolution: 0 }, near)).toThrow(
      /thickness/,
    );
  });
});
