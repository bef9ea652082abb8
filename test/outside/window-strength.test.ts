/**
 * Round windows under pressure, against published worked examples and plate theory.
 *  - P. MacQueen, "Windows thickness", CCD-world list, 23 Feb 1996: fused silica (48.92 MPa), unsupported diameter
 *    106 mm, 5 mm thick, 101 kPa, rim loose: safety factor 3.83.
 *  - "The Design of Pressure Windows" (notes on round optical windows): with a factor of 4 the thickness is
 *    1.06 D √(P/F) with a loose rim and 0.866 D √(P/F) clamped.
 *  - Timoshenko, Strength of Materials, part II, 3rd ed. 1956, pp. 96–103, as worked through by a maker of
 *    finite-element programs: clamped plate of radius 40 in, 1 in thick, 6 psi: bending stress 7200 psi at the rim.
 *  - Maker's example (tydexoptics.com, vacuum windows): germanium, unsupported radius 45 mm, one atmosphere, factor 5:
 *    about 4.0 mm with coefficient 1.1 (strength of germanium 10 500 psi by another maker's list).
 */
import { describe, expect, it } from "vitest";
import { plateStress, plateThickness } from "../../src/plan/index.ts";

const PSI = 6894.757;
const INCH = 0.0254;

describe("window strength", () => {
  it("MacQueen's camera window has a factor of 3.83", () => {
    expect(48.92e6 / plateStress(101e3, 0.106, 0.005)).toBeCloseTo(3.83, 2);
  });

  it("thickness at a factor of four", () => {
    const scale = 0.04 * Math.sqrt(101325 / 48e6);
    expect(plateThickness(101325, 0.04, 48e6, 4) / scale).toBeCloseTo(1.06, 2);
    expect(plateThickness(101325, 0.04, 48e6, 4, "clamped") / scale).toBeCloseTo(0.866, 3);
  });

  it("Timoshenko's clamped plate", () => {
    expect(plateStress(6 * PSI, 80 * INCH, 1 * INCH, "clamped") / PSI).toBeCloseTo(7200, 0);
  });

  it("a maker's germanium window", () => {
    // Printed to a tenth of a millimetre, with 1.1 for our 1.125 and a strength from another list: 15 %.
    const thickness = plateThickness(101325, 0.09, 10500 * PSI, 5);
    expect(Math.abs(thickness / 4.0e-3 - 1)).toBeLessThan(0.15);
  });
});
