/**
 * Glass, silica and water indices against catalogue and handbook values. Spectral lines: ISO 7944 in air (F, C, d, e).
 * n_d and V_d as printed by the catalogue are checked for every stored glass.
 */
import { describe, expect, it } from "vitest";
import { airToVacuum, glassIndex, glassIndexInAir, waterIndex } from "../../src/medium/index.ts";
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

describe("water against the handbook", () => {
  checkPublished("water-D-20C", () => waterIndex(airToVacuum(lineInAir("D"))));
});
