/**
 * Limits for eyes, against independent sums.
 *  - Blue light: ICNIRP, Health Physics 105 (2013) 74, and IEC 62471: ∫B L dλ · t ≤ 10⁶ J/(m² sr) up to 10 000 s,
 *    and for sources that look smaller than 11 mrad 1 W/m² of weighted irradiance beyond 100 s
 *    (figures from memory). Independent here: Planck's law with CODATA figures typed in, Simpson's rule over the
 *    function B at 5 nm between 400 and 500 nm, where all but 2 % of a hot body's weighted light lies.
 *  - Eye's acuity: Snellen's 20/20 letter is 8.87 mm high at 20 ft, five times its detail of one minute of arc
 *    (liquisearch.com, Snellen chart).
 */
import { describe, expect, it } from "vitest";
import { acuityLength, blueLight } from "../../src/plan/index.ts";

const B: readonly number[] = [
  0.1, 0.2, 0.4, 0.8, 0.9, 0.95, 0.98, 1, 1, 0.97, 0.94, 0.9, 0.8, 0.7, 0.62, 0.55, 0.45, 0.4, 0.22, 0.16,
  0.1,
];

function planck(nm: number, kelvin: number): number {
  const l = nm * 1e-9;
  return (
    (2 * 6.62607015e-34 * 299792458 ** 2) /
    l ** 5 /
    Math.expm1((6.62607015e-34 * 299792458) / (l * 1.380649e-23 * kelvin))
  );
}

describe("blue light", () => {
  it("of a carbon crater of 3800 K", () => {
    let sum = 0;
    for (let i = 0; i < 20; i += 2)
      sum +=
        (B[i] * planck(400 + 5 * i, 3800) +
          4 * B[i + 1] * planck(405 + 5 * i, 3800) +
          B[i + 2] * planck(410 + 5 * i, 3800)) *
        (5e-9 / 3);
    const found = blueLight({ kind: "carbon-arc", temperature: 3800 });
    expect(found?.radiance).toBeGreaterThan(sum);
    expect(found?.radiance).toBeLessThan(1.08 * sum);
    expect(found?.time).toBeCloseTo(1e6 / (found?.radiance ?? 0), 9);
    // Small source: L A / r² = 1 W/m², a crater of 20 mm².
    expect(found?.distance).toBeCloseTo(Math.sqrt((found?.radiance ?? 0) * 20e-6), 9);
  });

  it("hotter lamps reach the limit sooner; a flat spectrum is no lamp", () => {
    const time = (kelvin: number) => blueLight({ kind: "halogen", temperature: kelvin })?.time ?? 0;
    expect(time(3400)).toBeLessThan(time(3000));
    expect(blueLight({ kind: "flat" })).toBeUndefined();
    expect(blueLight({ kind: "halogen", temperature: 1200 })?.time).toBe(Infinity);
  });
});

describe("acuity", () => {
  it("Snellen's letter of 8.87 mm at 20 feet", () => {
    expect(5 * acuityLength(20 * 0.3048) * 1e3).toBeCloseTo(8.87, 2);
  });
});
