import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/pressure.ts";
import type { VesselInput } from "./api.ts";
import { metalBudget } from "./charge.ts";
import { settlingWarnings } from "./settling.ts";
import { solveVapour } from "./solve.ts";

const GRID = { radial: 12, angular: 16, axial: 24 };

const SODIUM: VesselInput = {
  element: "Na",
  bore: 0.04,
  heatedLength: 0.3,
  length: 0.8,
  wall: { kind: "measured", bottom: 593, top: 520, ends: 420, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 2000,
};

describe("windows", () => {
  it("stand at the metal's dew point beside a wall as warm as themselves, and take no film", () => {
    const budget = metalBudget(solveVapour(SODIUM, GRID));
    expect(budget.windowDewPoint).toBeCloseTo(420, 0);
    expect(settlingWarnings(solveVapour(SODIUM, GRID)).map((w) => w.code)).not.toContain("window-fogging");
  });

  it("fog where they are colder than it, with the dew point in the sentence and a remedy", () => {
    const warm = { ...SODIUM, wall: { ...SODIUM.wall, ends: 480 } };
    const field = solveVapour({ ...warm, windowTemperature: 400 }, GRID);
    const budget = metalBudget(field);
    expect(budget.windowPressure / saturationPressure("Na", 480)).toBeCloseTo(1, 1);
    expect(budget.windowSaturation).toBeGreaterThan(100);
    const warning = settlingWarnings(field).find((w) => w.code === "window-fogging");
    expect(warning?.sentence).toMatch(/dew point of the Na beside them, 20\d °C/);
    expect(warning?.value).toBeGreaterThan(warning?.threshold ?? Infinity);
    expect(warning?.remedy?.text).toMatch(/°C/);
  });

  it("do not fog where hardly anything arrives, however cold they are", () => {
    const strontium: VesselInput = {
      ...SODIUM,
      element: "Sr",
      wall: { ...SODIUM.wall, bottom: 883, top: 780, ends: 400 },
      windowTemperature: 320,
    };
    expect(settlingWarnings(solveVapour(strontium, GRID)).map((w) => w.code)).not.toContain("window-fogging");
  });
});

describe("solid metal", () => {
  it("builds up just beyond the heat of a strontium tube, fastest there", () => {
    const field = solveVapour(
      { ...SODIUM, element: "Sr", wall: { ...SODIUM.wall, bottom: 950, top: 780, ends: 350 } },
      GRID,
    );
    const budget = metalBudget(field);
    const warning = settlingWarnings(field).find((w) => w.code === "solid-builds-up");
    expect(warning?.value).toBeCloseTo(3600 * budget.crustGrowth, 12);
    expect(budget.crustGrowth).toBeCloseTo(budget.solidBuildUp / 2640, 15);
    expect(Math.abs(budget.crustAt)).toBeLessThan(0.25);
  });

  it("is not spoken of where all the wall is above the melting point", () => {
    const field = solveVapour({ ...SODIUM, wall: { ...SODIUM.wall, ends: 400 } }, GRID);
    expect(settlingWarnings(field).map((w) => w.code)).not.toContain("solid-builds-up");
  });
});
