/** What must hold for any tube, legal or extreme: bounds, balances, filling, mirror, refusals. */
import { describe, expect, it } from "vitest";
import { saturationPressure } from "../medium/pressure.ts";
import { cellVolume } from "../numerics/polar-grid.ts";
import { Refusal } from "../quantity/refusal.ts";
import { BOLTZMANN } from "../reference/index.ts";
import type { GridSize, VesselInput } from "./api.ts";
import { beamColumns } from "./columns.ts";
import type { VapourField } from "./field.ts";
import { vesselNumbers } from "./numbers.ts";
import { solveVapour } from "./solve.ts";

const caesium: VesselInput = {
  element: "Cs",
  bore: 0.04,
  heatedLength: 0.4,
  length: 0.8,
  wall: { kind: "measured", bottom: 558.15, top: 428.15, ends: 333.15, hotStrip: Math.PI },
  gas: "Ar",
  gasPressure: 5333,
};
const small: GridSize = { radial: 8, angular: 16, axial: 8 };

/** Throws unless every number of the field is finite and T, ψ and x lie within what the wall allows. */
function expectBounded(field: VapourField, label: string): void {
  const { bottom, top, ends } = (field.input as VesselInput).wall;
  const low = Math.min(bottom, top, ends) - 1e-6;
  const high = Math.max(bottom, top, ends) + 1e-6;
  const most =
    Math.max(...[bottom, top, ends].map((t) => saturationPressure(field.input.element, t))) / field.pressure;
  let bad = 0;
  field.gasTemperature.forEach((t, c) => {
    const x = field.moleFraction[c];
    const n = field.density[c];
    if (!(t >= low && t <= high)) bad++;
    if (!(x >= 0 && x < 1 && x <= most * (1 + 1e-9))) bad++;
    if (!(n >= 0 && n < Infinity)) bad++;
  });
  expect(bad, label).toBe(0);
}

describe("any tube", () => {
  it("gives finite fields within the wall's values for random extreme setups, or a named refusal", () => {
    const seed = 20261125;
    let state = seed;
    const random = (): number => {
      state = (state * 48271) % 2147483647;
      return state / 2147483647;
    };
    const between = (a: number, b: number): number => a + (b - a) * random();
    const logBetween = (a: number, b: number): number => Math.exp(between(Math.log(a), Math.log(b)));
    const elements = ["Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba", "Hg", "Zn", "Tl"];
    const gases = ["He", "Ne", "Ar", "N2"];
    let pipes = 0;
    for (let n = 0; n < 400; n++) {
      const bore = logBetween(1e-3, 0.3);
      const heatedLength = logBetween(5e-3, 3);
      const base: VesselInput = {
        element: elements[Math.floor(random() * elements.length)],
        bore,
        heatedLength,
        length: heatedLength * (random() < 0.1 ? 1 : between(1, 5)),
        wall: {
          kind: "measured",
          bottom: between(250, 1500),
          top: between(250, 1500),
          ends: between(200, 900),
          hotStrip: between(0.02, 6.26),
        },
        gas: gases[Math.floor(random() * gases.length)],
        gasPressure: logBetween(1e-2, 1e6),
      };
      const input = random() < 0.5 ? { ...base, gasFilledAt: between(250, 400), charge: 1e-3 } : base;
      const label = `seed ${seed}, draw ${n}: ${JSON.stringify(input)}`;
      const field = solveVapour(input, small);
      if (field.regime === "heat-pipe") pipes++;
      expectBounded(field, label);
      const height = between(-0.45, 0.45) * bore;
      const columns = beamColumns(field, Float64Array.of(height));
      for (const values of Object.values(columns) as Float64Array[]) {
        expect(Number.isFinite(values[0]), `${label} ${JSON.stringify(columns)}`).toBe(true);
      }
      const numbers = vesselNumbers(field, height);
      for (const [name, value] of Object.entries(numbers)) {
        if (typeof value === "number") expect(Number.isNaN(value), `${label} ${name}`).toBe(false);
      }
    }
    expect(pipes).toBeGreaterThan(20);
  });

  it("lets as many atoms settle as evaporate, to 1e-8 of the throughput", () => {
    const field = solveVapour(caesium);
    let net = 0;
    let through = 0;
    for (const rate of field.evaporation) {
      net += rate;
      through += 0.5 * Math.abs(rate);
    }
    expect(Math.abs(net)).toBeLessThan(1e-8 * through);
  });

  it("keeps the amount of gas of a cold filling", () => {
    const field = solveVapour({ ...caesium, gasFilledAt: 293 }, small);
    let atoms = 0;
    const { grid } = field;
    for (let k = 0; k < grid.axial; k++)
      for (let j = 0; j < grid.angular; j++)
        for (let i = 0; i < grid.radial; i++) {
          const c = (k * grid.angular + j) * grid.radial + i;
          atoms +=
            (cellVolume(grid, i, k) * (1 - field.moleFraction[c]) * field.pressure) /
            (BOLTZMANN * field.gasTemperature[c]);
        }
    const filled = (5333 * Math.PI * 0.02 ** 2 * 0.8) / (BOLTZMANN * 293);
    expect(Math.abs(atoms / filled - 1)).toBeLessThan(1e-7);
    expect(field.pressure).toBeGreaterThan(5333);
  });

  it("comes to the same answer from a neighbouring field", () => {
    const from = solveVapour({ ...caesium, wall: { ...caesium.wall, bottom: 540 } }, small);
    const cold = solveVapour(caesium, small);
    const warm = solveVapour(caesium, small, from);
    expect(warm.convergence.vapourCycles).toBeLessThanOrEqual(cold.convergence.vapourCycles);
    cold.density.forEach((n, c) => {
      if (Math.abs(warm.density[c] / n - 1) > 1e-5 && n > 1e15)
        throw new Error(`cell ${c}: ${n}, ${warm.density[c]}`);
    });
  });

  it("is alike on both sides of mid-length and left and right", () => {
    const { grid, density } = solveVapour(caesium, small);
    const { radial, angular, axial } = grid;
    for (let k = 0; k < axial; k++)
      for (let j = 1; j < angular; j++)
        for (let i = 0; i < radial; i++) {
          const own = density[(k * angular + j) * radial + i];
          expect(density[((axial - 1 - k) * angular + j) * radial + i]).toBe(own);
          expect(Math.abs(density[(k * angular + angular - j) * radial + i] / own - 1)).toBeLessThan(1e-5);
        }
  });

  it("calls the heat-pipe regime by its name, with N = p/(kT) in the hot middle", () => {
    const field = solveVapour({ ...caesium, gasPressure: 100 }, small);
    expect(field.regime).toBe("heat-pipe");
    const numbers = vesselNumbers(field, -0.01);
    expect(numbers.warnings.map((w) => w.code)).toContain("heat-pipe");
    expect(numbers.density).toBeLessThanOrEqual(100 / (BOLTZMANN * numbers.gasTemperature));
    expect(numbers.density).toBeGreaterThan(0.9 * (100 / (BOLTZMANN * numbers.gasTemperature)));
  });

  it.each([
    [{ length: 0.3 }, "vessel.length"],
    [{ bore: -1 }, "vessel.bore"],
    [{ gasPressure: 0 }, "vessel.gasPressure"],
    [{ gasPressure: Number.NaN }, "vessel.gasPressure"],
    [{ gas: "H2" }, "vessel.gas"],
    [{ wall: { ...caesium.wall, hotStrip: 7 } }, "vessel.hotStrip"],
    [{ wall: { ...caesium.wall, top: 0 } }, "vessel.top"],
  ] as [Partial<VesselInput>, string][])("refuses %o naming %s", (change, field) => {
    try {
      solveVapour({ ...caesium, ...change }, small);
    } catch (fault) {
      expect(fault).toBeInstanceOf(Refusal);
      expect((fault as Refusal).record.field).toBe(field);
      return;
    }
    throw new Error("not refused");
  });

  it("refuses a beam outside the bore", () => {
    expect(() => beamColumns(solveVapour(caesium, small), Float64Array.of(0.021))).toThrow(Refusal);
  });
});
