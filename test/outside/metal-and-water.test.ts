/**
 * Hydrogen that metals set free from water, against printed school examples.
 *  - 2 Na + 2 H₂O → 2 NaOH + H₂: 6.9 g of sodium give 0.15 mol, 3.36 l at 0 °C and one atmosphere with 22.4 l a mole
 *    (univerkov.com, worked example).
 *  - 130 g of sodium give 2.83 mol of hydrogen (socratic.org, worked example with 22.99 g/mol).
 *  - M + 2 H₂O → M(OH)₂ + H₂ for calcium, strontium, barium: one mole a mole (any textbook of inorganic chemistry).
 */
import { describe, expect, it } from "vitest";
import { hydrogenYield } from "../../src/plan/index.ts";

describe("hydrogen from metal and water", () => {
  it("6.9 g of sodium", () => {
    const { amount, volume } = hydrogenYield("Na", 6.9e-3);
    expect(amount).toBeCloseTo(0.15, 3);
    // Ours is stated at 20 °C: 22.4 l a mole at 0 °C grow by 293.15/273.15.
    expect((volume * 1e3 * 273.15) / 293.15).toBeCloseTo(3.36, 1);
  });

  it("130 g of sodium", () => {
    expect(hydrogenYield("Na", 0.13).amount).toBeCloseTo(2.83, 2);
  });

  it.each([
    ["Ca", 40.078, 1],
    ["Sr", 87.62, 1],
    ["Ba", 137.327, 1],
    ["Cs", 132.905, 0.5],
    ["K", 39.0983, 0.5],
    ["Li", 6.94, 0.5],
    ["Rb", 85.4678, 0.5],
  ])("a mole of %s", (element, molarMass, moles) => {
    expect(hydrogenYield(element, molarMass * 1e-3).amount).toBeCloseTo(moles, 3);
  });

  it("4 % by volume burn: a litre of hydrogen makes 25 l of air burnable", () => {
    const { volume, burnable } = hydrogenYield("Na", 1e-3);
    expect(burnable / volume).toBeCloseTo(25, 9);
  });
});
