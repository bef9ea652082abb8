import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/index.ts";
import { type JsonObject, parseSetup, vapourStage } from "../setup/index.ts";
import { numberAt, withNumbers } from "./numbers.ts";

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
describe("numbers of other vessels and of heaters, read and replaced", () => {
  it("reach the side arm, whose column follows", () => {
    const setup = parseSetup(cell);
    expect(numberAt(setup, "vessel.sideArm")).toBeCloseTo(473.15, 9);
    const warmer = withNumbers(setup, new Map([["vessel.sideArm", 483.15]]));
    const ratio = vapourStage(warmer).middle.columnDensity / vapourStage(setup).middle.columnDensity;
    expect(ratio).toBeCloseTo(saturationPressure("Na", 483.15) / saturationPressure("Na", 473.15), 6);
  });

  it("reach the heater's power; the wall is balanced again, as if it stood in the file", () => {
    const heated = (power: string): JsonObject =>
      setupOf({
        gas: "Ar",
        gasPressure: "20 mbar",
        tubeMaterial: "steel-304",
        heater: { power, wallThickness: "1 mm", topCooling: "blown-air" },
      });
    const moved = withNumbers(
      parseSetup(heated("150 W")),
      new Map([
        ["vessel.heater.power", 180],
        ["vessel.heater.topAirSpeed", 3],
      ]),
    );
    const written = parseSetup(
      setupOf({
        gas: "Ar",
        gasPressure: "20 mbar",
        tubeMaterial: "steel-304",
        heater: { power: "180 W", wallThickness: "1 mm", topCooling: "blown-air", topAirSpeed: "3 m/s" },
      }),
    );
    expect(numberAt(moved, "vessel.heater.topAirSpeed")).toBe(3);
    expect(moved.vessel.wall.bottom).toBeCloseTo(written.vessel.wall.bottom, 4);
    expect(moved.vessel.wall.top).toBeCloseTo(written.vessel.wall.top, 4);
  });
});
