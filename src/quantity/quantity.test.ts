import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dimensionCode,
  formatQuantity,
  formatWithUncertainty,
  fromCoherent,
  parseAny,
  parseQuantity,
  parseWithUncertainty,
  Refusal,
  toCoherent,
  unitSymbol,
} from "./index.ts";

function refusalOf(run: () => unknown): Refusal {
  try {
    run();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
  throw new Error("nothing was refused");
}

describe("parseQuantity", () => {
  // Expected numbers follow from the SI definitions of the units alone.
  it.each([
    ["25 mm", "m", 0.025],
    ["25mm", "m", 0.025],
    ["290 degC", "K", 563.15],
    ["5 °C", "K", 278.15],
    ["-10 Cel", "K", 263.15],
    ["−10 ℃", "K", 263.15],
    ["563.15 K", "K", 563.15],
    ["3 mbar", "Pa", 300],
    ["1e19 m-3", "m-3", 1e19],
    ["1e13 cm-3", "m-3", 1e19],
    ["2.5×10¹⁹ m⁻³", "m-3", 2.5e19],
    ["2.5·10^19 m^-3", "m-3", 2.5e19],
    ["10 µm", "m", 1e-5],
    ["10 μm", "m", 1e-5],
    ["5 um", "m", 5e-6],
    ["20 %", "1", 0.2],
    ["0.2", "1", 0.2],
    ["85 mrad", "rad", 0.085],
    ["5 g", "kg", 0.005],
    ["1200 /mm", "1/m", 1.2e6],
    ["1200 mm-1", "1/m", 1.2e6],
    ["1200 1/mm", "m-1", 1.2e6],
    ["5 kg·m/s^2", "N", 5],
    ["15 W/(m.K)", "W/(m.K)", 15],
    ["15 W m⁻¹ K⁻¹", "W/(m.K)", 15],
    ["3 K/mm", "K/m", 3000],
    ["1e-7 Hz.cm3", "Hz.m3", 1e-13],
    ["2 h", "s", 7200],
    ["12.5 kV", "V", 12500],
    ["1.5 in", "m", 0.0381],
    [".5 m", "m", 0.5],
    ["+5. m", "m", 5],
    ["766.2\u202fnm", "m", 766.2e-9],
    ["5896 Å", "m", 5896e-10],
    ["0 degC", "K", 273.15],
    ["290 deg C", "K", 563.15],
    ["290 ° C", "K", 563.15],
    ["10^19 m-3", "m-3", 1e19],
    ["10¹⁹ m⁻³", "m-3", 1e19],
    ["-10^-3 m", "m", -1e-3],
  ])("reads %s", (text, unit, expected) => {
    expect(parseQuantity(text, unit, "f")).toBe(expected);
  });

  it.each([
    ["0.8 deg", "rad", (0.8 * Math.PI) / 180],
    ["15 Torr", "Pa", (15 * 101325) / 760],
    ["30 MHz/Torr", "Hz/Pa", (30e6 * 760) / 101325],
    ["5 degC/min", "K/s", 5 / 60],
    ["2 K.m", "m.degC", 2],
    ["68 degF", "K", 293.15],
    ["30 arcsec", "rad", ((30 / 3600) * Math.PI) / 180],
    ["2 mmHg", "Pa", 266.64477483],
    ["50 ppm", "1", 5e-5],
  ])("reads %s to rounding", (text, unit, expected) => {
    const got = parseQuantity(text, unit, "f");
    expect(Math.abs(got / expected - 1)).toBeLessThan(4e-16 * 2);
  });

  it.each([
    [
      "250 K mm",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "250 K mm"; "K mm" has the dimension m.K.',
    ],
    ["25", "m", 'vessel.bore: expected a length such as "25 mm", received "25"; the unit is missing.'],
    ["wide", "m", 'vessel.bore: expected a length such as "25 mm", received "wide".'],
    ["", "m", 'vessel.bore: expected a length such as "25 mm", received "".'],
    [
      "25 mmm",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "25 mmm"; the unit "mmm" is unknown, the nearest known one is "mm".',
    ],
    [
      "3 MBAR",
      "Pa",
      'vessel.bore: expected a pressure such as "3 mbar", received "3 MBAR"; the unit "MBAR" is unknown, the nearest known one is "mbar".',
    ],
    [
      "2,5 mm",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "2,5 mm"; write the decimal mark as a point.',
    ],
    [
      "-300 degC",
      "K",
      'vessel.bore: expected a temperature such as "290 degC", received "-300 degC"; nothing is colder than 0 K.',
    ],
    [
      "30 MHz",
      "rad/s",
      'vessel.bore: expected an angular frequency such as "6e9 rad/s", received "30 MHz"; "MHz" has the dimension s-1.',
    ],
    [
      "1e999 mm",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "1e999 mm"; the number is too large.',
    ],
    [
      "290 C",
      "K",
      'vessel.bore: expected a temperature such as "290 degC", received "290 C"; write "degC": "C" is an electrical unit.',
    ],
    [
      "3 W/(m.K",
      "W/(m.K)",
      'vessel.bore: expected a heat conductivity such as "15 W/(m.K)", received "3 W/(m.K"; a closing parenthesis is missing.',
    ],
    [
      "5 m0",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "5 m0"; the power 0 is out of range.',
    ],
    ["5 m/", "m", 'vessel.bore: expected a length such as "25 mm", received "5 m/"; "" is no unit.'],
    ["5 m)", "m", 'vessel.bore: expected a length such as "25 mm", received "5 m)"; ")" is left over.'],
    [
      "5 constructor",
      "m",
      'vessel.bore: expected a length such as "25 mm", received "5 constructor"; the unit "constructor" is unknown.',
    ],
  ])("refuses %s", (text, unit, sentence) => {
    expect(refusalOf(() => parseQuantity(text, unit, "vessel.bore")).message).toBe(sentence);
  });

  it("shortens a very long text", () => {
    const { record } = refusalOf(() => parseQuantity("x".repeat(5000), "m", "f"));
    expect(record.received).toHaveLength(82);
  });

  it("treats a degree in a compound as a difference", () => {
    expect(parseQuantity("5 K/mm", "K/m", "f")).toBe(parseQuantity("5 degC/mm", "K/m", "f"));
  });
});

describe("uncertainty in the text", () => {
  it.each([
    ["25(1) mm", 0.025, 0.001],
    ["25.0(12) mm", 0.025, 0.0012],
    ["25.0(1.2) mm", 0.025, 0.0012],
    ["25 ± 1 mm", 0.025, 0.001],
    ["(25 +/- 1) mm", 0.025, 0.001],
    ["2.50(3)e-2 m", 0.025, 0.0003],
    ["(2.50 ± 0.03)×10⁻² m", 0.025, 0.0003],
  ])("reads %s", (text, value, standardUncertainty) => {
    expect(parseWithUncertainty(text, "m", "f")).toEqual({ value, standardUncertainty });
    expect(parseQuantity(text, "m", "f")).toBe(value);
  });

  it("does not shift the uncertainty of a Celsius temperature", () => {
    expect(parseWithUncertainty("290(2) degC", "K", "f")).toEqual({ value: 563.15, standardUncertainty: 2 });
  });

  it("says that none was given", () => {
    expect(parseWithUncertainty("25 mm", "m", "f").standardUncertainty).toBeUndefined();
  });

  it.each([
    [0.025, 0.0012, "m", "25.0(12)\u202fmm"],
    [766.7009e-9, 0.2e-12, "m", "766.70090(20)\u202fnm"],
    [1.234e20, 5.6e18, "m-2", "1.234(56)×10²⁰\u202fm⁻²"],
    [-0.00131, 0.00002, "rad", "−1.310(20)\u202fmrad"],
    [12345, 1500, "1", "12300(1500)"],
    [2.013, 0.00996, "1", "2.013(10)"],
    [0.02, 0, "m", "20\u202fmm"],
  ])("writes %s ± %s %s", (value, u, unit, text) => {
    expect(formatWithUncertainty(value, u, unit)).toBe(text);
    if (u > 0) {
      const back = parseWithUncertainty(text, unit, "f");
      expect(Math.abs(back.value - value)).toBeLessThan(0.06 * u);
      expect(Math.abs(back.standardUncertainty! / u - 1)).toBeLessThan(0.05);
    }
  });
});

describe("formatQuantity", () => {
  it.each([
    [0.025, "m", {}, "25\u202fmm"],
    [563.15, "K", { as: "degC" }, "290\u202f°C"],
    [563.15, "K", {}, "563.1\u202fK"],
    [300, "Pa", { as: "mbar" }, "3\u202fmbar"],
    [2.5e19, "m-3", {}, "2.5×10¹⁹\u202fm⁻³"],
    [2.5e19, "m-3", { plain: true }, "2.5e19 m-3"],
    [2.5e-15, "m-3", {}, "2.5×10⁻¹⁵\u202fm⁻³"],
    [0.9999999e-3, "m", {}, "1\u202fmm"],
    [1e-5, "m", {}, "10\u202fµm"],
    [1e-5, "m", { plain: true }, "10 um"],
    [0.005, "kg", {}, "5\u202fg"],
    [2.5, "kg", {}, "2.5\u202fkg"],
    [225018, "Hz/Pa", {}, "225\u202fkHz/Pa"],
    [0.2, "1", {}, "0.2"],
    [0, "m", {}, "0\u202fm"],
    [-0.0013, "rad", {}, "−1.3\u202fmrad"],
    [766.70089e-9, "m", { as: "nm", digits: 8 }, "766.70089\u202fnm"],
    [15, "W/(m.K)", {}, "15\u202fW/(m·K)"],
    [0.2, "1", { as: "%" }, "20\u202f%"],
  ])("writes %s %s %o", (value, unit, options, text) => {
    expect(formatQuantity(value, unit, options)).toBe(text);
  });

  it("throws an ordinary error for a number that is none", () => {
    expect(() => formatQuantity(Number.NaN, "m")).toThrow("not a finite number");
    expect(() => formatQuantity(Number.POSITIVE_INFINITY, "m")).not.toThrow(Refusal);
  });

  it("shows units as people write them", () => {
    expect(unitSymbol("um")).toBe("µm");
    expect(unitSymbol("cm2/s")).toBe("cm²/s");
    expect(unitSymbol("Cel")).toBe("°C");
    expect(unitSymbol("u")).toBe("u");
    expect(unitSymbol("1/m")).toBe("/m");
  });
});

describe("text → number → text", () => {
  const units = [
    "m",
    "K",
    "Pa",
    "m-3",
    "rad",
    "kg",
    "s",
    "Hz",
    "1",
    "1/m",
    "Hz/Pa",
    "W",
    "V",
    "W/(m2.K)",
    "m2/s",
  ];
  const finite = fc
    .double({ noNaN: true, noDefaultInfinity: true })
    .filter((x) => x === 0 || (Math.abs(x) > 1e-280 && Math.abs(x) < 1e280));

  it("reads back every number it writes, to the last bit", () => {
    fc.assert(
      fc.property(finite, fc.constantFrom(...units), fc.boolean(), (x, unit, plain) => {
        const value = unit === "K" ? Math.abs(x) : x;
        const text = formatQuantity(value, unit, { digits: "all", plain });
        // 0 and −0 are one number on paper.
        expect(parseQuantity(text, unit, "f") + 0).toBe(value + 0);
      }),
      { numRuns: 2000 },
    );
  });

  it("reads back text in a chosen unit to 1e-14", () => {
    const chosen = fc.constantFrom(
      ["m", "nm"],
      ["Pa", "Torr"],
      ["rad", "deg"],
      ["kg", "mg"],
      ["s", "min"],
      ["Hz/Pa", "MHz/Torr"],
    );
    fc.assert(
      fc.property(fc.double({ min: 1e-12, max: 1e12, noNaN: true }), chosen, (value, [unit, as]) => {
        const back = parseQuantity(formatQuantity(value, unit, { as: as, digits: "all" }), unit, "f");
        expect(Math.abs(back / value - 1)).toBeLessThan(1e-14);
      }),
    );
  });

  it("keeps the written digits of a prefixed length", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9999 }), fc.constantFrom("nm", "um", "mm", "km"), (n, unit) => {
        const text = `${n / 10} ${unit}`;
        const value = parseQuantity(text, "m", "f");
        expect(formatQuantity(value, "m", { as: unit, digits: "all", plain: true })).toBe(text);
      }),
    );
  });

  it("either reads or refuses any text, and never gives NaN", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...Array.from("0123456789.eE+-−×^ mKPa/()°µ⁻³%[]Hz±")) }),
        (text) => {
          let value = 0;
          try {
            value = parseAny(text).value;
          } catch (thrown) {
            expect(thrown).toBeInstanceOf(Refusal);
          }
          expect(Number.isFinite(value)).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("parseAny and stored units", () => {
  it("gives value and dimension", () => {
    expect(parseAny("3 mbar")).toEqual({
      value: 300,
      dimension: [-1, 1, -2, 0, 0, 0, 0, 0],
      unit: "m-1.kg.s-2",
    });
    expect(dimensionCode(parseAny("7").dimension)).toBe("1");
  });

  it("converts stored numbers both ways", () => {
    expect(toCoherent(589.15833, "nm")).toBe(589.15833e-9);
    expect(fromCoherent(589.15833e-9, "nm")).toBe(589.15833);
    expect(toCoherent(17, "Cel")).toBe(290.15);
    expect(() => toCoherent(1, "furlong")).toThrow('"furlong" is unknown');
  });
});
