/**
 * Constants against figures that are exact by definition (SI Brochure, 9th ed. (2019)) and against the 2018 adjustment
 * stored beside the 2022 one: Tiesinga et al., Rev. Mod. Phys. 93, 025010 (2021).
 */
import { describe, expect, it } from "vitest";
import { CONSTANTS, lookup, SPEED_OF_LIGHT } from "../../src/reference/index.ts";

describe("constants", () => {
  // typed from the SI Brochure, independent of the file
  it.each([
    ["c", 299792458],
    ["h", 6.62607015e-34],
    ["e", 1.602176634e-19],
    ["k_B", 1.380649e-23],
    ["N_A", 6.02214076e23],
  ])("%s is the defined value", (id, value) => {
    const constant = CONSTANTS.find((each) => each.id === id)!;
    expect(constant.value).toBe(value);
    expect(constant.exact).toBe(true);
    expect(constant.uncertainty).toBe(0);
  });

  it("moved from 2018 to 2022 by no more than a few standard uncertainties of 2018", () => {
    for (const { id, value, uncertainty } of CONSTANTS) {
      const paths = lookup(`constants.${id}`).map((each) => each.path);
      if (!paths.includes(`constants.${id}.codata2018`)) continue;
      const [old] = lookup(`constants.${id}.codata2018`);
      if (old.unit === undefined || uncertainty === undefined || uncertainty === 0) continue;
      // units in data/constants.json are coherent: numbers compare as they stand
      expect(Math.abs(old.value - value), id).toBeLessThan(6 * old.uncertainty!);
    }
  });

  it("radiation constants follow from h, c and k to rounding (CODATA 2022 listing)", () => {
    const h = 6.62607015e-34;
    const k = 1.380649e-23;
    const c2 = CONSTANTS.find((each) => each.id === "c2")!.value;
    const sigma = CONSTANTS.find((each) => each.id === "sigma_SB")!.value;
    expect(c2 / ((h * SPEED_OF_LIGHT) / k)).toBeCloseTo(1, 14);
    expect(sigma / ((2 * Math.PI ** 5 * k ** 4) / (15 * h ** 3 * SPEED_OF_LIGHT ** 2))).toBeCloseTo(1, 14);
  });
});
