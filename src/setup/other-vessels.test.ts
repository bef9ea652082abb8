import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/index.ts";
import { Refusal } from "../quantity/index.ts";
import { BOLTZMANN } from "../reference/index.ts";
import { type JsonObject, parseSetup, vapourStage } from "./index.ts";

const BENCH = {
  path: {
    source: { kind: "halogen", temperature: "3200 K" },
    centreWavelength: "589.46 nm",
    beamSize: "8 mm",
    disperser: { kind: "grating", grooves: "1200 /mm" },
  },
  camera: { columns: 320, rows: 200, pixel: "9.6 um" },
};

function setupOf(vessel: JsonObject, element = "Na"): JsonObject {
  return { version: 1, title: "invented", medium: { element }, vessel, ...BENCH };
}

const cell = setupOf({
  kind: "cell",
  bore: "25 mm",
  pathLength: "50 mm",
  sideArm: "200 degC",
  body: "230 degC",
});
const flame = setupOf({
  kind: "flame",
  gas: "N2",
  gasPressure: "1013 mbar",
  bore: "60 mm",
  pathLength: "40 mm",
  flameDensity: "1e18 m-3",
  flameTemperature: "2000 K",
  flameWidth: "8 mm",
  flameHeight: "-6 mm",
});
const tube = {
  bore: "40 mm",
  gas: "Ar",
  gasPressure: "20 mbar",
  thermocouples: {
    "bottom, middle": "0 deg, 0 mm, 300 degC",
    "top, middle": "180 deg, 0 mm, 200 degC",
    "left end": "0 deg, -380 mm, 60 degC",
    "right end": "0 deg, 380 mm, 60 degC",
  },
};

function refusal(work: () => unknown): Refusal {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("a sealed cell", () => {
  it("holds p_sat(side arm)/(k T_body), level: a column and no bend", () => {
    const stage = vapourStage(parseSetup(cell));
    const density = saturationPressure("Na", 473.15) / (BOLTZMANN * 503.15);
    expect(stage.middle.columnDensity / (0.05 * density)).toBeCloseTo(1, 9);
    expect(stage.middle.columnGradient).toBe(0);
    expect(stage.numbers.density / density).toBeCloseTo(1, 6);
    expect(stage.numbers.warnings).toEqual([]);
    expect(stage.numbers.scaleHeight).toBeGreaterThan(1e3);
  });

  it("refuses a body colder than its side arm, and a heater", () => {
    const cold = setupOf({ kind: "cell", sideArm: "230 degC", body: "200 degC" });
    expect(refusal(() => parseSetup(cold)).record.field).toBe("vessel.body");
    const heated = setupOf({
      kind: "cell",
      sideArm: "200 degC",
      body: "230 degC",
      tubeMaterial: "steel-304",
      heater: { power: "100 W" },
    });
    expect(refusal(() => parseSetup(heated)).record.field).toBe("vessel.heater");
  });
});

describe("a salted flame", () => {
  it("has the columns of its Gaussian layer, exact in height", () => {
    const stage = vapourStage(parseSetup(flame));
    const n = 1e18 * Math.exp(-((6 / 8) ** 2));
    expect(stage.middle.columnDensity / (n * 0.04)).toBeCloseTo(1, 9);
    expect(stage.middle.columnGradient / (((-2 * 6e-3) / 64e-6) * n * 0.04)).toBeCloseTo(1, 9);
    // The field's own local slope goes through its rings.
    expect(Math.abs(stage.numbers.densityGradient / (((-2 * 6e-3) / 64e-6) * n) - 1)).toBeLessThan(5e-3);
  });

  it("refuses a beam that misses it and more atoms than its gas can hold", () => {
    const beside = { ...flame, vessel: { ...(flame["vessel"] as JsonObject), flameWidth: "1 mm" } };
    expect(refusal(() => parseSetup(beside)).record.field).toBe("vessel.flameHeight");
    const dense = { ...flame, vessel: { ...(flame["vessel"] as JsonObject), flameDensity: "1e26 m-3" } };
    expect(refusal(() => vapourStage(parseSetup(dense))).record.field).toBe("vessel.flameDensity");
  });
});

describe("thermocouples at named places", () => {
  it("give the wall, read back as bottom, top and ends, and layers dense below", () => {
    const setup = parseSetup(setupOf(tube));
    expect(setup.vessel.wall.bottom).toBeCloseTo(573.15, 0);
    expect(setup.vessel.wall.top).toBeCloseTo(473.15, 0);
    expect(setup.vessel.wall.ends).toBeLessThan(360);
    const stage = vapourStage(setup, { grid: { radial: 12, angular: 16, axial: 16 } });
    expect(stage.middle.columnGradient).toBeLessThan(0);
  });

  it("refuses fewer than two, a text of another form, and bottom beside them", () => {
    const one = { ...tube, thermocouples: { a: "0 deg, 0 mm, 300 degC" } };
    expect(refusal(() => parseSetup(setupOf(one))).record.code).toBe("too-few-thermocouples");
    const wrong = { ...tube, thermocouples: { a: "300 degC", b: "0 deg, 0 mm, 300 degC" } };
    expect(refusal(() => parseSetup(setupOf(wrong))).record.field).toBe("vessel.thermocouples.a");
    expect(refusal(() => parseSetup(setupOf({ ...tube, bottom: "300 degC" }))).record.code).toBe(
      "wall-given-twice",
    );
  });
});
