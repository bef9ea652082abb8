/** Lamps, arc and Fraunhofer letters against their sources, named in each title. */
import { describe, expect, it } from "vitest";
import { airToVacuum } from "../../src/medium/index.ts";
import { CARBON_ARC_TEMPERATURE, FRAUNHOFER, lampLines, linesOf } from "../../src/reference/index.ts";
import { checkPublished } from "./published-check.ts";

const nearest = (element: string, airNanometres: number): number =>
  lampLines(element)
    .map((line) => line.airWavelength.value)
    .reduce((best, each) =>
      Math.abs(each - airNanometres * 1e-9) < Math.abs(best - airNanometres * 1e-9) ? each : best,
    );

describe("lamps", () => {
  checkPublished("hg-green", () => {
    const air = nearest("Hg", 546.07);
    return [air * 1e9, airToVacuum(air) * 1e9];
  });
  checkPublished("carbon-arc", () => CARBON_ARC_TEMPERATURE.value);

  it("argon 763.51 nm in air is 763.7208 nm in vacuum", () => {
    expect(airToVacuum(nearest("Ar", 763.51)) * 1e9).toBeCloseTo(763.7208, 4);
  });

  it("sodium lamp lines are the vapour's own (Morton 2003; NIST air wavelengths)", () => {
    for (const line of linesOf("Na").slice(0, 2)) {
      expect(Math.abs(nearest("Na", line.airWavelength! * 1e9) - line.airWavelength!)).toBeLessThan(0.2e-12);
    }
  });

  it("Fraunhofer letters belong to lines of the lamps that carry them (ISO 7944, air)", () => {
    for (const [letter, element] of [
      ["C", "H"],
      ["F", "H"],
      ["d", "He"],
      ["e", "Hg"],
      ["g", "Hg"],
      ["C'", "Cd"],
      ["F'", "Cd"],
    ] as const) {
      const line = FRAUNHOFER.find((each) => each.letter === letter)!.airWavelength;
      // Letters are rounded to 0.1 pm, and hydrogen's are mean positions of a fine structure.
      expect(Math.abs(nearest(element, line * 1e9) - line), letter).toBeLessThan(
        element === "H" ? 20e-12 : 3e-12,
      );
    }
  });
});
