/**
 * Hyperfine splittings and relative strengths against published ones: SI Brochure; Steck's D-line data sheets (tables of
 * relative hyperfine transition strengths S_FF′, from memory); Arimondo, Inguscio & Violino, Rev. Mod. Phys. 49, 31
 * (1977) (ground states, from memory).
 */
import { describe, expect, it } from "vitest";
import { hyperfineShift, hyperfineStrength, totalMomenta } from "../../src/medium/hyperfine.ts";
import { vapourComponents } from "../../src/medium/index.ts";
import { isotopesOf, SPEED_OF_LIGHT } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

function groundSplitting(isotope: string): number {
  const found = isotopesOf(isotope.replace(/^\d+/, "")).find((each) => each.isotope === isotope)!;
  const [low, high] = totalMomenta(found.spin, 0.5);
  const constants = { a: found.levels[0].a.value };
  return hyperfineShift(high, found.spin, 0.5, constants) - hyperfineShift(low, found.spin, 0.5, constants);
}

describe("ground states", () => {
  checkPublished("hfs-na-ground", () => groundSplitting("23Na") * 1e-6);
  checkPublished("hfs-rb87-ground", () => groundSplitting("87Rb") * 1e-6);
  checkPublished("hfs-cs-ground", () => groundSplitting("133Cs") * 1e-6);

  const others = {
    "39K": 461.71972,
    "40K": -1285.79,
    "41K": 254.013872,
    "85Rb": 3035.732439,
    "6Li": 228.2052,
    "7Li": 803.5041,
  };
  for (const [isotope, wanted] of Object.entries(others)) {
    it(`${isotope}: ${wanted} MHz (Arimondo et al. 1977; memory)`, () => {
      expect(Math.abs(groundSplitting(isotope) * 1e-6 - wanted)).toBeLessThan(2e-3);
    });
  }
});

describe("excited levels", () => {
  checkPublished("hfs-na-3p32", ({ inputs }) => {
    const constants = { a: inputs["A_MHz"], b: inputs["B_MHz"] };
    return totalMomenta(1.5, 1.5).map((f) => hyperfineShift(f, 1.5, 1.5, constants));
  });
});

describe("relative strengths S_FF′ (Steck, D-line data sheets, tables 8 and 9; memory)", () => {
  const published: [string, number, number, number, number, number][] = [
    // isotope, I, J′, F, F′, S
    ["87Rb", 1.5, 1.5, 2, 3, 7 / 10],
    ["87Rb", 1.5, 1.5, 2, 2, 1 / 4],
    ["87Rb", 1.5, 1.5, 2, 1, 1 / 20],
    ["87Rb", 1.5, 1.5, 1, 2, 5 / 12],
    ["87Rb", 1.5, 1.5, 1, 1, 5 / 12],
    ["87Rb", 1.5, 1.5, 1, 0, 1 / 6],
    ["87Rb", 1.5, 0.5, 2, 2, 1 / 2],
    ["87Rb", 1.5, 0.5, 2, 1, 1 / 2],
    ["87Rb", 1.5, 0.5, 1, 2, 5 / 6],
    ["87Rb", 1.5, 0.5, 1, 1, 1 / 6],
    ["85Rb", 2.5, 1.5, 3, 4, 9 / 14],
    ["85Rb", 2.5, 1.5, 2, 1, 3 / 10],
    ["133Cs", 3.5, 1.5, 4, 5, 11 / 18],
    ["133Cs", 3.5, 1.5, 4, 4, 7 / 24],
    ["133Cs", 3.5, 1.5, 4, 3, 7 / 72],
    ["133Cs", 3.5, 1.5, 3, 4, 15 / 56],
    ["133Cs", 3.5, 1.5, 3, 3, 3 / 8],
    ["133Cs", 3.5, 1.5, 3, 2, 5 / 14],
  ];
  for (const [isotope, spin, jUpper, f, fUpper, wanted] of published) {
    it(`${isotope} F = ${f} → F′ = ${fUpper}, J′ = ${jUpper}`, () => {
      // the table counts per atom in F, ours per atom of the vapour: share of F is (2F + 1)/(2(2I + 1))
      const share = (2 * f + 1) / (2 * (2 * spin + 1));
      expect(hyperfineStrength(spin, 0.5, jUpper, f, fUpper) / share).toBeCloseTo(wanted, 13);
    });
  }
});

describe("components of the vapour", () => {
  it("Cs D2 lies 9.19263177 GHz apart by its ground state, and F = 4 → 5 carries 11/32 of the line", () => {
    const state = { element: "Cs", density: 1e18, temperature: 400 };
    const own = vapourComponents(state).filter((each) => each.line === "CsI-852.35vac");
    const frequencies = (weight: number) =>
      own
        .filter((each) => Math.abs(each.weight - weight) < 1e-9)
        .map((each) => SPEED_OF_LIGHT / each.wavelength);
    // F = 3 → 4 has weight 7/16 · 15/56, F = 4 → 4 has 9/16 · 7/24: same upper level. F = 3 → 3 weighs as much as the
    // latter, but lies higher.
    const splitting = frequencies((7 / 16) * (15 / 56))[0] - Math.min(...frequencies((9 / 16) * (7 / 24)));
    expect(Math.abs(splitting * 1e-9 - 9.19263177)).toBeLessThan(1e-6);
    expect(own.some((each) => Math.abs(each.weight - (9 / 16) * (11 / 18)) < 1e-12)).toBe(true);
  });
});
