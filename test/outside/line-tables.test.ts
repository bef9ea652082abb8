/**
 * The tables of lines and isotopes against published intervals, ratios and widths. Sources stand in each title:
 * Morton, ApJS 149, 205 (2003) and 130, 403 (2000); D-line data sheets of Steck.
 */
import { describe, expect, it } from "vitest";
import {
  isotopesOf,
  lineById,
  linesOf,
  PLANCK,
  SPEED_OF_LIGHT,
  strengthOfEinsteinA,
} from "../../src/reference/index.ts";
import { linePairs } from "../../src/medium/index.ts";
import { checkPublished } from "./published-check.ts";

const d2 = lineById("NaI-589.16vac");
const d1 = lineById("NaI-589.76vac");

function levelOf(isotope: string, label: string) {
  const element = isotope.replace(/^\d+/, "");
  return isotopesOf(element)
    .find((each) => each.isotope === isotope)!
    .levels.find((level) => level.label === label)!;
}

describe("lines against published intervals", () => {
  checkPublished("na-d-splitting-air", () => (d1.airWavelength! - d2.airWavelength!) * 1e9);
  checkPublished("na-d-splitting-vac", () => (d1.wavelength - d2.wavelength) * 1e9);
  // from the levels: wavelengths of eight digits leave 2e-4 cm⁻¹
  checkPublished("na-3p-fine-structure", () => {
    const wavenumber = (energy: number): number => energy / (PLANCK * SPEED_OF_LIGHT) / 100;
    return wavenumber(d2.upper.energy) - wavenumber(d1.upper.energy);
  });
  checkPublished("na-3p-fine-structure-GHz", () => {
    const frequency = (label: string): number =>
      SPEED_OF_LIGHT / levelOf("23Na", label).wavelengthFromGround!.value;
    return (frequency("3p 2P3/2") - frequency("3p 2P1/2")) * 1e-9;
  });
});

describe("strengths against published ratios", () => {
  checkPublished("f-ratio-na", () => linePairs("Na")[0].ratio);
  checkPublished("f-ratio-k", () => linePairs("K")[0].ratio);
  checkPublished("f-ratio-cs", () => linePairs("Cs")[0].ratio);
  checkPublished("f-ratio-cs-455-459", () => linePairs("Cs")[1].ratio);

  it("the tabulated pair Cs 455/459 keeps Morton's own ratio 4.436 among the alternatives", () => {
    const [, , blue, red] = linesOf("Cs");
    const published = (line: typeof blue): number =>
      line.alternatives.find((choice) => choice.key === "published")!.value;
    expect(published(blue) / published(red)).toBeCloseTo(4.436, 3);
  });

  checkPublished("A-to-f-na-d2", ({ inputs }) =>
    strengthOfEinsteinA(1 / (inputs.tau_ns * 1e-9), inputs.lambda_vac_nm * 1e-9, inputs.g_l, inputs.g_u),
  );

  it("Sr 460.9 nm from the lifetime 5.22(3) ns: f = 1.83 (Nagel et al., PRL 94, 083004 (2005), abstract; looked-up)", () => {
    expect(Math.abs(lineById("SrI-460.86vac").oscillatorStrength - 1.83)).toBeLessThan(0.0005);
  });
});

describe("natural widths against the data sheets", () => {
  const width = (isotope: string, label: string): number =>
    1e-6 / (2 * Math.PI * levelOf(isotope, label).lifetime!.value);
  checkPublished("nat-width-na-d2", () => width("23Na", "3p 2P3/2"));
  checkPublished("nat-width-cs-d1", () => width("133Cs", "6p 2P1/2"));
});
