/** Metal in motion, thermocouples, and the other vessels. */
import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/pressure.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { VesselInput } from "./api.ts";
import { chargeFor, hydrogenEquivalent, metalBudget } from "./charge.ts";
import { gridSize, tubeGrid } from "./grid.ts";
import { vesselNumbers } from "./numbers.ts";
import { cellColumns, flameColumns } from "./other-vessels.ts";
import { solveVapour } from "./solve.ts";
import { solveThermocoupleVapour, thermocoupleWall } from "./thermocouples.ts";

const strontium: VesselInput = {
  element: "Sr",
  bore: 0.04,
  heatedLength: 0.25,
  length: 0.6,
  wall: { kind: "measured", bottom: 883, top: 728, ends: 350, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 2000,
  charge: 3e-3,
};
const size = gridSize({ radial: 12, angular: 32, axial: 16 });

describe("metal", () => {
  const field = solveVapour(strontium, size);
  const budget = metalBudget(field);

  it("balances what leaves the wall and what settles", () => {
    expect(Math.abs(budget.evaporation / (budget.liquidReturn + budget.solidLoss) - 1)).toBeLessThan(1e-6);
    let net = 0;
    let most = 0;
    budget.settling.forEach((rate, k) => {
      const share = rate * (field.grid.zFaces[k + 1] - field.grid.zFaces[k]);
      net += share;
      most = Math.max(most, Math.abs(share));
    });
    expect(Math.abs(net)).toBeLessThan(1e-4 * most);
  });

  it("is strontium a one-way distillation, at the rate 1.27 D N_b L m within the factor that edges make", () => {
    // Practitioner's estimate of the rate to the cold top; the solved one counts the flow across the strip's edges too.
    expect(budget.liquidReturn).toBe(0);
    const n = saturationPressure("Sr", 883) / (BOLTZMANN * 883);
    const d = 0.123e-4 * (883 / 297.15) ** 1.75 * (101325 / 2000);
    const estimate = 1.27 * d * n * 0.25 * (87.62e-3 / 6.02214076e23);
    expect(budget.solidLoss / estimate).toBeGreaterThan(0.7);
    expect(budget.solidLoss / estimate).toBeLessThan(2.5);
    const life = vesselNumbers(field).chargeLife!;
    expect(life).toBeCloseTo(3e-3 / budget.solidLoss, 3);
    expect(chargeFor(budget, 3600)).toBeGreaterThan(2 * 3600 * budget.solidLoss);
  });

  it("carries twice the metal to and fro at half the pressure", () => {
    const thin = metalBudget(solveVapour({ ...strontium, gasPressure: 1000 }, size));
    expect(Math.abs(thin.evaporation / budget.evaporation / 2 - 1)).toBeLessThan(0.01);
  });

  it("knows the hydrogen in 5 g of caesium: 0.0188 mol, 0.45 litres", () => {
    const { moles, volume } = hydrogenEquivalent("Cs", 5e-3);
    expect(moles).toBeCloseTo(5e-3 / 0.13290545 / 2, 9);
    expect(volume * 1e3).toBeCloseTo(0.4525, 3);
    expect(hydrogenEquivalent("Hg", 1).moles).toBe(0);
  });
});

describe("thermocouples", () => {
  const points = [
    { name: "below", angle: 0, z: 0, temperature: 883 },
    { name: "above", angle: Math.PI, z: 0, temperature: 728 },
    { name: "left end", angle: 0, z: -0.3, temperature: 350 },
    { name: "right end", angle: 0, z: 0.3, temperature: 350 },
  ];

  it("are met where they stand and never exceeded", () => {
    const grid = tubeGrid(strontium, size);
    const wall = thermocoupleWall(points, grid);
    expect(Math.max(...wall.temperature)).toBeLessThanOrEqual(883);
    expect(Math.min(...wall.temperature)).toBeGreaterThanOrEqual(350);
    const at = (j: number): number => wall.temperature[8 * 32 + j];
    expect(Math.abs(at(0) - 883)).toBeLessThan(8);
    expect(Math.abs(at(16) - 728)).toBeLessThan(8);
  });

  it("give a vapour, and refuse to stand alone", () => {
    const field = solveThermocoupleVapour(strontium, points, size);
    expect(vesselNumbers(field).densityGradient).toBeLessThan(0);
    expect(() => thermocoupleWall(points.slice(0, 1), tubeGrid(strontium, size))).toThrow(Refusal);
  });
});

describe("other vessels", () => {
  it("a sealed cell is level: N = p_sat(side arm)/(kT) times the path", () => {
    const columns = cellColumns(
      { element: "Rb", sideArm: 400, body: 420, pathLength: 0.05 },
      Float64Array.of(0, 0.01),
    );
    const expected = (saturationPressure("Rb", 400) / (BOLTZMANN * 420)) * 0.05;
    expect(columns.columnDensity[1] / expected).toBeCloseTo(1, 12);
    expect(columns.columnGradient[0]).toBe(0);
    expect(() =>
      cellColumns({ element: "Rb", sideArm: 400, body: 390, pathLength: 0.05 }, Float64Array.of(0)),
    ).toThrow(Refusal);
  });

  it("a flame is steepest at its half-width over √2", () => {
    const heights = Float64Array.from({ length: 201 }, (_, i) => (i - 100) * 1e-4);
    const columns = flameColumns(
      { density: 1e19, centre: 0, halfWidth: 5e-3, depth: 0.02, temperature: 1800 },
      heights,
    );
    let steepest = 0;
    columns.columnGradient.forEach((g, i) => {
      if (g < columns.columnGradient[steepest]) steepest = i;
    });
    expect(Math.abs(heights[steepest] - 5e-3 / Math.SQRT2)).toBeLessThan(1e-4);
    expect(columns.columnGradient[steepest] / ((-1e19 * 0.02 * Math.sqrt(2 / Math.E)) / 5e-3)).toBeCloseTo(
      1,
      3,
    );
  });
});
