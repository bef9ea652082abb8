/**
 * Glass, silica and water indices against catalogue and handbook values. Spectral lines: ISO 7944 in air (F, C, d, e).
 * n_d and V_d as printed by the catalogue are checked for every stored glass.
 */
import { describe, expect, it } from "vitest";
import { airToVacuum, glassIndex, glassIndexInAir, waterIndex } from "../../src/medium/index.ts";
import { darkeningOf } from "../../src/path/glass-absorption.ts";
import { FRAUNHOFER, GLASSES } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

function lineInAir(letter: string): number {
  return FRAUNHOFER.find((each) => each.letter === letter)!.airWavelength;
}

const index = (code: string, letter: string): number => glassIndexInAir(code, lineInAir(letter));
const abbe = (code: string): number => (index(code, "d") - 1) / (index(code, "F") - index(code, "C"));

describe("glasses against their catalogue", () => {
  for (const code of ["517642", "620364", "785258"]) {
    checkPublished(`glass-${code}-d`, () => [index(code, "d"), abbe(code)]);
    checkPublished(`glass-${code}-FC`, () => [index(code, "F"), index(code, "C")]);
  }
  checkPublished("silica-d", () => [index("fused-silica", "d"), abbe("fused-silica")]);

  it.each(GLASSES.map((glass) => [glass.code, glass] as const))(
    "%s: n_d to 1e-5 and V_d to 0.02 as its own record prints them (looked-up)",
    (code, glass) => {
      expect(Math.abs(index(code, "d") - glass.indexD!.value)).toBeLessThan(1e-5);
      expect(Math.abs(abbe(code) - glass.abbe!.value)).toBeLessThan(0.02);
    },
  );

  it.each(GLASSES.map((glass) => [glass.code]))("%s: the six-digit code is its own n_d and V_d", (code) => {
    expect(Math.round((index(code, "d") - 1) * 1000)).toBe(Number(code.slice(0, 3)));
    expect(Math.abs(abbe(code) * 10 - Number(code.slice(3)))).toBeLessThan(1);
  });

  it("absolute index = catalogue index times that of air, 1.000268 at 20 °C (common practice, no source)", () => {
    const absolute = glassIndex("517642", airToVacuum(lineInAir("d")));
    expect(absolute / index("517642", "d") - 1).toBeCloseTo(2.72e-4, 5);
  });
});

describe("how much light glass takes", () => {
  /** Share that a plate passes, light thrown to and fro between its faces included; wavelength in air, m. */
  const plate = (code: string, air: number, thickness: number): number => {
    const once = ((glassIndexInAir(code, air) - 1) / (glassIndexInAir(code, air) + 1)) ** 2;
    return (Math.exp(-darkeningOf(code)(air) * thickness) * (1 - once)) / (1 + once);
  };

  it("no glass of the catalogue is taken as clear", () => {
    for (const { code } of GLASSES) expect(darkeningOf(code)(400e-9)).toBeGreaterThan(0);
    expect(darkeningOf("fused-silica")(400e-9)).toBe(0);
  });

  // Colour codes of the maker's data sheets, first figure: the wavelength in tens of nm at which a plate of 10 mm passes 80 %, faces included (definition: OHARA,
  // technical information, "Coloring"; 33 for 517642 seen at pmoptics.com, "Transmittance"; the others from memory). 847238 is coded at 70 % and left out.
  it.each([
    ["517642", 33],
    ["511604", 33],
    ["522595", 34],
    ["487704", 30],
    ["569560", 36],
    ["620603", 36],
    ["548458", 33],
    ["581409", 34],
    ["603380", 35],
    ["620364", 35],
    ["648339", 37],
    ["673322", 37],
    ["728284", 41],
    ["785258", 44],
    ["805254", 42],
  ])("%s turns dark at %s0 nm: the first half of its colour code", (code, tens) => {
    let nanometres = 600;
    while (plate(code, nanometres * 1e-9, 0.01) > 0.8) nanometres -= 0.1;
    // Half of the code's step, and half a nanometre for the way between the catalogue's wavelengths (805254: 414.8 nm).
    expect(Math.abs(nanometres - tens * 10)).toBeLessThan(5.5);
  });

  // The same catalogue's transmittance as another hand worked it out: k of the index (CC0 refractive-index database, specs of these codes).
  it.each([
    ["805254", 400e-9, 2.8412e-7],
    ["847238", 436e-9, 1.0072e-7],
    ["439950", 350e-9, 9.3463e-8],
    ["522595", 365e-9, 5.2279e-8],
    ["603380", 1060e-9, 6.7549e-9],
  ])("%s: k at %s m is %s", (code, air, k) => {
    expect((darkeningOf(code)(air) * air) / (4 * Math.PI) / k).toBeCloseTo(1, 3);
  });
});

describe("water against the handbook", () => {
  checkPublished("water-D-20C", () => waterIndex(airToVacuum(lineInAir("D"))));
});
