/** Black bodies and colours against tables; figures as in published/checks.json with their sources. */
import { describe, expect, it } from "vitest";
import { planckRadiance, tungstenEmissivity } from "../../src/path/index.ts";
import { tristimulus } from "../../src/picture/index.ts";
import { illuminantD65 } from "../../src/reference/index.ts";

function chromaticity(power: (w: number) => number): [number, number] {
  const sum = [0, 0, 0];
  for (let nm = 380; nm <= 780; nm += 5) {
    const w = nm * 1e-9;
    const t = tristimulus(w);
    for (let c = 0; c < 3; c++) sum[c] += power(w) * t[c];
  }
  const all = sum[0] + sum[1] + sum[2];
  return [sum[0] / all, sum[1] / all];
}

describe("lamps", () => {
  it("Planck: 2.6027e11 W/(m²·sr·m) at 500 nm and 3000 K; peak at 502.04 nm for 5772 K; exitance 4.593e6 W/m² at 3000 K (CODATA)", () => {
    expect(planckRadiance(500e-9, 3000) / 2.6027e11).toBeCloseTo(1, 4);
    const peak = 502.04e-9;
    expect(planckRadiance(peak, 5772)).toBeGreaterThan(planckRadiance(peak - 0.2e-9, 5772));
    expect(planckRadiance(peak, 5772)).toBeGreaterThan(planckRadiance(peak + 0.2e-9, 5772));
    let exitance = 0;
    for (let x = Math.log(50e-9); x < Math.log(1e-2); x += 1e-3)
      exitance += Math.PI * planckRadiance(Math.exp(x), 3000) * Math.exp(x) * 1e-3;
    expect(exitance / 4.593003e6).toBeCloseTo(1, 5);
  });

  it("tungsten's emissivity gives the sample values of the fit (Pon & Hessler 1984)", () => {
    for (const [um, kelvin, value] of [
      [0.4, 2000, 0.4694],
      [0.5, 2400, 0.4498],
      [0.6, 2800, 0.427],
      [0.7, 2400, 0.4195],
    ]) {
      expect(Math.abs(tungstenEmissivity(um * 1e-6, kelvin) - value)).toBeLessThan(1e-4);
    }
  });
});

describe("colour", () => {
  it("Planckian locus (table of black bodies in ColorPy's test_blackbody.py, seen, which takes it to be that of Judd & Wyszecki, Color in Business, Science and Industry, 1975): 2000 to 10 000 K", () => {
    for (const [kelvin, x, y] of [
      [2000, 0.5267, 0.4133],
      [2600, 0.4682, 0.4123],
      [3000, 0.4369, 0.4041],
      [3200, 0.4234, 0.399],
      [3800, 0.3897, 0.3823],
      [4500, 0.3608, 0.3636],
      [5200, 0.3397, 0.3472],
      [6500, 0.3135, 0.3237],
      [10000, 0.2807, 0.2884],
    ]) {
      const [cx, cy] = chromaticity((w) => planckRadiance(w, kelvin));
      expect(Math.abs(cx - x)).toBeLessThan(3e-4);
      expect(Math.abs(cy - y)).toBeLessThan(3e-4);
    }
  });

  it("illuminant A, a black body at 2848 K · 1.4388/1.435 = 2855.5 K: 0.44758, 0.40745 (CIE 15, 3rd edition, as the Color package of Hackage prints it)", () => {
    // The illuminant is defined by its own table; a black body of this temperature is what that table was made from.
    const [x, y] = chromaticity((w) => planckRadiance(w, (2848 * 1.4388) / 1.435));
    expect(Math.abs(x - 0.44758)).toBeLessThan(1e-4);
    expect(Math.abs(y - 0.40745)).toBeLessThan(1e-4);
  });

  it("D65 (CIE 15:2018, as github.com/vanderlee/colorpicker, wiki, Illuminants, prints it): 0.31271, 0.32902", () => {
    const { wavelengths, power } = illuminantD65();
    const [x, y] = chromaticity((w) => power[Math.round((w - wavelengths[0]) / 5e-9)]);
    expect(Math.abs(x - 0.31271)).toBeLessThan(3e-5);
    expect(Math.abs(y - 0.32902)).toBeLessThan(3e-5);
  });
});
