import hyperfine from "../../data/hyperfine.json" with { type: "json" };
import linesFile from "../../data/lines.json" with { type: "json" };
import { describe, expect, it } from "vitest";
import { parseQuantity, Refusal } from "../quantity/index.ts";
import * as reference from "./index.ts";
import { finite, halfInteger, list, originOf, record, sourced, text } from "./record.ts";

describe("constants", () => {
  it("are consistent with each other", () => {
    const {
      SPEED_OF_LIGHT: c,
      ELEMENTARY_CHARGE: e,
      VACUUM_PERMITTIVITY: eps0,
      ELECTRON_MASS: m,
    } = reference;
    const radius = e ** 2 / (4 * Math.PI * eps0 * m * c ** 2);
    expect(Math.abs(radius / reference.CLASSICAL_ELECTRON_RADIUS - 1)).toBeLessThan(1e-9);
    expect(reference.PLANCK / (2 * Math.PI)).toBeCloseTo(reference.HBAR, 48);
    expect(Math.abs((reference.BOLTZMANN * reference.AVOGADRO) / reference.GAS_CONSTANT - 1)).toBeLessThan(
      1e-15,
    );
    const loschmidt = reference.ATMOSPHERE / (reference.BOLTZMANN * reference.ICE_POINT);
    expect(Math.abs(loschmidt / reference.LOSCHMIDT - 1)).toBeLessThan(1e-14);
    expect(Math.abs(reference.TORR / (reference.ATMOSPHERE / 760) - 1)).toBeLessThan(1e-15);
  });

  it("hold the unit table to the stored values", () => {
    expect(parseQuantity("1 u", "kg", "f")).toBe(reference.ATOMIC_MASS);
    // 1e-19 is no binary number: one rounding remains
    expect(Math.abs(parseQuantity("1 eV", "J", "f") / reference.ELEMENTARY_CHARGE - 1)).toBeLessThan(3e-16);
    expect(parseQuantity("1 Torr", "Pa", "f")).toBe(reference.TORR);
  });

  it("carry source and uncertainty", () => {
    const mass = reference.CONSTANTS.find((constant) => constant.id === "m_e");
    expect(mass?.uncertainty).toBe(2.8e-40);
    expect(mass?.source).toContain("CODATA");
  });
});

describe("lines", () => {
  it("reads all 38, each with an origin", () => {
    expect(reference.LINES).toHaveLength(linesFile.entries.length);
    expect(reference.ELEMENTS).toEqual([
      "Na",
      "K",
      "Rb",
      "Cs",
      "Li",
      "Sr",
      "Ba",
      "Mg",
      "Tl",
      "Hg",
      "Cd",
      "Zn",
      "Ca",
    ]);
    for (const line of reference.LINES)
      expect(["looked-up", "memory", "computed"]).toContain(line.alternatives[0].origin);
  });

  it("gives the potassium D2 line in SI units", () => {
    const d2 = reference.lineById("KI-766.70vac");
    expect(d2).toMatchObject({
      element: "K",
      name: "D2",
      wavelength: 766.70089e-9,
      oscillatorStrength: 0.6682,
    });
    expect(d2).toMatchObject({
      gLower: 2,
      gUpper: 4,
      jLower: 0.5,
      jUpper: 1.5,
      lowerEnergy: 0,
      upperDecayRate: 3.791e7,
    });
    expect(d2.upper.label).toBe("4p 2P3/2");
    // 7E-4 dex of f
    expect(d2.strengthUncertainty! / d2.oscillatorStrength).toBeCloseTo(0.0007 * Math.log(10), 10);
  });

  it("has wavelengths that agree with its level energies", () => {
    for (const line of reference.LINES) {
      const energy = line.upper.energy - line.lower.energy;
      const fromLevels = (reference.PLANCK * reference.SPEED_OF_LIGHT) / energy;
      expect(Math.abs(fromLevels / line.wavelength - 1), line.id).toBeLessThan(2e-6);
    }
  });

  it("has statistical weights that agree with J", () => {
    for (const line of reference.LINES) {
      expect(line.gLower, line.id).toBe(2 * line.jLower + 1);
      expect(line.gUpper, line.id).toBe(2 * line.jUpper + 1);
    }
  });

  it("relates f and A as the tables do, to the digits they print", () => {
    for (const entry of linesFile.entries) {
      if (!("check_A_from_f" in entry) || entry.check_A_from_f === undefined) continue;
      const line = reference.lineById(entry.id);
      const published = line.alternatives.find((choice) => choice.key === "published")!;
      const a = reference.einsteinA(published.value, line.wavelength, line.gLower, line.gUpper);
      expect(Math.abs(a / entry.check_A_from_f.value - 1), entry.id).toBeLessThan(1e-4);
      const back = reference.strengthOfEinsteinA(a, line.wavelength, line.gLower, line.gUpper);
      expect(back).toBeCloseTo(published.value, 14);
    }
  });

  it("puts the lifetime-based strength of Sr 460.9 nm first and keeps the others", () => {
    const line = reference.lineById("SrI-460.86vac");
    expect(line.alternatives.map((choice) => [choice.key, Number(choice.value.toFixed(3))])).toEqual([
      ["fourth_source", 1.83],
      ["published", 2.01],
      ["second_source", 1.92],
      ["third_source", 1.815],
    ]);
    // The level decays by this line only: 5.22 ns
    expect(line.upperDecayRate).toBeCloseTo(1 / 5.22e-9, -3);
    expect(line.choiceReason).toContain("5.22(3) ns");
  });

  it("takes the measured matrix elements of Cs 6s–7p", () => {
    const blue = reference.lineById("CsI-455.66vac");
    const red = reference.lineById("CsI-459.45vac");
    expect(blue.oscillatorStrength).toBeCloseTo(0.01099, 5);
    expect(red.oscillatorStrength).toBeCloseTo(0.00256, 5);
    expect(blue.alternatives[1]).toMatchObject({ key: "published", value: 0.0118 });
    // the lifetime is another quantity than this line's share of it
    expect(blue.upperDecayRate).toBe(7.52e6);
  });

  it("says where only a lower bound of the decay rate is known", () => {
    const line = reference.lineById("KI-404.53vac");
    expect(line.sources.upperDecayRate.origin).toBe("computed");
    expect(line.sources.upperDecayRate.note).toContain("lower bound");
    expect(line.upperDecayRate).toBe(line.einsteinA);
  });

  it("refuses what it does not hold", () => {
    expect(() => reference.linesOf("k")).toThrow(
      'element: expected one of Na, K, Rb, Cs, Li, Sr, Ba, Mg, Tl, Hg, Cd, Zn, Ca, received "k"; write "K".',
    );
    expect(() => reference.linesOf("Xx", "medium.element")).toThrow("medium.element: expected one of");
    expect(() => reference.lineById("KI-1")).toThrow(Refusal);
  });
});

describe("isotopes", () => {
  it("have abundances that sum to 1", () => {
    for (const element of reference.ELEMENTS) {
      const total = reference.isotopesOf(element).reduce((sum, each) => sum + each.abundance.value, 0);
      expect(Math.abs(total - 1), element).toBeLessThan(2e-4);
    }
  });

  it("give the stored mean masses", () => {
    for (const group of hyperfine.other_species_isotopes) {
      expect(reference.meanMassOf(group.species) / reference.ATOMIC_MASS).toBeCloseTo(group.mean_mass_u, 4);
    }
    expect(() => reference.meanMassOf("Xx")).toThrow("no isotopes of Xx");
    expect(reference.isotopesOf("Xx")).toEqual([]);
  });

  it("carry the levels of the D lines by the labels of the lines", () => {
    for (const element of ["Li", "Na", "K", "Rb", "Cs"]) {
      const [d2, d1] = reference.linesOf(element);
      for (const isotope of reference.isotopesOf(element)) {
        const labels = isotope.levels.map((level) => level.label);
        expect(labels).toEqual([d1.lower.label, d1.upper.label, d2.upper.label]);
      }
    }
  });

  it("has shifts by pair", () => {
    const shift = reference.isotopeShiftsOf("Rb").find((each) => each.line === "D2");
    expect(shift).toMatchObject({ from: "85Rb", to: "87Rb" });
    expect(shift?.shift.value).toBe(78.095e6);
  });
});

describe("vapour pressure", () => {
  it("reproduces the pressures that were worked out with the tables", () => {
    const potassium = reference.vapourPressureOf("K");
    const liquid = potassium.equations.find(
      (each) => each.id === "alcock-practical" && each.phase === "liquid",
    )!;
    const p =
      liquid.unitPressure * 10 ** (liquid.a + liquid.b / 500 + liquid.c * Math.log10(500) + liquid.d * 500);
    // stored table of data/vapour-pressure.json, K at 500 K
    expect(p).toBeGreaterThan(3);
    expect(p).toBeLessThan(4);
    expect(potassium.meltingPoint.value).toBe(336.65);
    expect(potassium.crc.temperatures[0]).toBe(473);
  });

  it("leaves out branches that no source gives", () => {
    const phases = reference.vapourPressureOf("Sr").equations.map((each) => `${each.id} ${each.phase}`);
    expect(phases).toEqual(["alcock-practical solid", "alcock-precise solid"]);
    expect(() => reference.vapourPressureOf("Xe")).toThrow(Refusal);
  });

  it("brings Nesmeyanov's form to the common one", () => {
    const cs = reference
      .vapourPressureOf("Cs")
      .equations.find((each) => each.id === "nesmeyanov" && each.phase === "liquid")!;
    const p = cs.unitPressure * 10 ** (cs.a + cs.b / 350 + cs.c * Math.log10(350) + cs.d * 350);
    expect(Math.abs(p / 0.015503 - 1)).toBeLessThan(1e-4);
  });
});

describe("collisions and gases", () => {
  it("converts widths per pressure and per density", () => {
    const argon = reference.foreignGasWidths("Rb").find((each) => each.line === "D1" && each.gas === "Ar")!;
    expect(argon.widthPerPressure?.value).toBeCloseTo(18.1e6 / 133.322387415, 6);
    expect(argon.widthPerDensity?.value).toBeCloseTo(7.385e-16, 24);
    // per density and per pressure belong together at the reference temperature: β_p = β_N / (k T)
    const kT = reference.BOLTZMANN * argon.referenceTemperature!;
    expect(argon.widthPerPressure!.value * kT).toBeCloseTo(argon.widthPerDensity!.value, 18);
  });

  it("reads the sodium–helium half widths as the caution says", () => {
    const helium = reference.foreignGasWidths("Na").find((each) => each.line === "D1")!;
    expect(helium.widthPerDensity?.value).toBeCloseTo(4.838e-16, 19);
    expect(helium.caution).toContain("half");
    expect(reference.foreignGasWidths("K")).toEqual([]);
  });

  it("brings amagats to densities", () => {
    const helium = reference.FOREIGN_GAS.find((each) => each.gas === "4He")!;
    expect(helium.widthPerDensity!.value * reference.LOSCHMIDT).toBeCloseTo(18e9, 0);
  });

  it("has the measured self-broadening of Rb D1", () => {
    expect(reference.measuredSelfBroadening("Rb D1")?.widthPerDensity.value).toBeCloseTo(6.9e-14, 26);
    expect(reference.measuredSelfBroadening("K D1")).toBeUndefined();
  });

  it("prefers seen diffusion figures to recalled ones", () => {
    expect(reference.diffusionOf("Cs", "Ar").map((each) => each.origin)).toEqual(["looked-up", "memory"]);
    expect(reference.diffusionOf("Rb", "N2")[0].coefficient).toMatchObject({
      value: 1.32e-5,
      uncertainty: 7e-7,
    });
    expect(reference.diffusionOf("Na", "He")[0].referenceTemperature).toBeUndefined();
    expect(reference.lennardJones("Ar")?.sigma.value).toBe(3.542e-10);
    expect(reference.lennardJones("Xe")).toBeUndefined();
    expect(reference.gasTransport("Ar").map((each) => each.correlation)).toContain("vapour viscosity");
  });
});

describe("lamps, colours, glasses", () => {
  it("sorts lamp lines and refuses unknown lamps", () => {
    const wavelengths = reference.lampLines("Ne").map((line) => line.airWavelength.value);
    expect(wavelengths).toHaveLength(28);
    expect([...wavelengths].sort((a, b) => a - b)).toEqual(wavelengths);
    expect(() => reference.lampLines("Xx")).toThrow(
      'lamp: expected one of Hg, Cd, Ne, Ar, He, H, Na, received "Xx".',
    );
  });

  it("reads the emissivity of tungsten from its printed form", () => {
    const branch = reference.tungstenEmissivity()[2];
    const [c0, c1, c2, c3] = branch.coefficients;
    // sample stored beside the formula: 0.65 µm belongs to the branch below, so take its own value at 0.7 µm, 2000 K
    expect(c0 + c1 * 0.7 + c2 * 2000 + c3 * 0.7 * 2000).toBeCloseTo(
      0.6552 - 0.18431 - 0.14666 + 0.103838,
      10,
    );
  });

  it("has band heads and the arc's temperature", () => {
    expect(reference.bandHeads("CN-violet-bands")[0]).toEqual({ wavelength: 388.34e-9, transition: "0-0" });
    expect(reference.CARBON_ARC_TEMPERATURE).toMatchObject({
      value: 3800,
      uncertainty: 20,
      origin: "looked-up",
    });
    expect(reference.FRAUNHOFER.find((letter) => letter.letter === "d")?.airWavelength).toBe(587.5618e-9);
  });

  it("has colour-matching functions with the published column sums", () => {
    const { x, y, z } = reference.cie1931();
    const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
    // CIE 15: sums of the 5 nm table, 380 nm to 780 nm
    expect(sum(x)).toBeCloseTo(21.371525, 5);
    expect(sum(y)).toBeCloseTo(21.371328, 5);
    expect(sum(z)).toBeCloseTo(21.37154, 5);
    expect(reference.illuminantD65().power[36]).toBe(100);
  });

  it("names the nearest glass when a code is unknown", () => {
    expect(() => reference.glassByCode("785260")).toThrow("nearest in index is 785258");
    expect(reference.glassCodes()).toHaveLength(17);
  });
});

describe("a broken file", () => {
  it.each([
    [() => record([], "x.json 3"), "x.json 3: no record"],
    [() => list({}, "x.json 3"), "x.json 3: no list"],
    [() => finite("1", "x.json 3"), "x.json 3: 1 is no number"],
    [() => finite(Number.NaN, "x.json 3"), "x.json 3: NaN is no number"],
    [() => text("", "x.json 3"), "x.json 3: a text is missing"],
    [() => originOf("rumour", "x.json 3"), 'x.json 3: "rumour" is no origin'],
    [() => halfInteger("a/2", "x.json 3"), 'x.json 3: "a/2" is no quantum number'],
    [() => sourced({ value: 1, unit: "nm", origin: "memory" }, "x.json 3"), "x.json 3: a text is missing"],
    [
      () => sourced({ value: 1, unit: "furlong", source: "s", origin: "memory" }, "x.json 3"),
      '"furlong" is unknown',
    ],
  ])("throws an ordinary error that names the entry (%#)", (run, message) => {
    expect(run).toThrow(message);
    expect(run).not.toThrow(Refusal);
  });
});
