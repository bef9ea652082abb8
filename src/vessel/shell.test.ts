import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { shellWall, solveBalancedVapour } from "./balanced.ts";
import { boreExchange } from "./bore-radiation.ts";
import { gridSize, tubeGrid } from "./grid.ts";
import { steadyShell } from "./steady-shell.ts";
import type { ShellInput } from "./shell-api.ts";
import { readyTime, warmUp } from "./warm-up.ts";

const tube: ShellInput = {
  bore: 0.04,
  heatedLength: 0.4,
  length: 0.8,
  material: "steel-304",
  thickness: 0.0015,
  hotStrip: 2.1,
  heater: { kind: "electric" },
  power: 200,
  insulation: { material: "ceramic-fibre", thickness: 0.02 },
  topCooling: { kind: "still-air" },
  endCooling: { kind: "liquid", coolant: "water", flow: 0.01, inlet: 288, conductance: 100 },
  room: 293,
};

describe("radiation across the bore", () => {
  it("passes 2R σ (T₁⁴ − T₂⁴) per length between the black halves of a round tube", () => {
    // View factor between half cylinders 2/π by crossed strings (Hottel & Sarofim, Radiative Transfer; from memory).
    const n = 48;
    const exchange = boreExchange(n, 1);
    let sent = 0;
    for (let j = 0; j < n / 2; j++)
      for (let d = 0; d < n; d++) sent += exchange[d] * ((j + d) % n < n / 2 ? 1 : 0) * ((2 * Math.PI) / n);
    expect(Math.abs(sent / 2 - 1)).toBeLessThan(0.005);
  });

  it("leaves a ring of one temperature alone, whatever its emissivity", () => {
    for (const emissivity of [0.1, 0.5, 0.9, 1]) {
      const sum = boreExchange(24, emissivity).reduce((a, b) => a + b, 0);
      expect(Math.abs(sum)).toBeLessThan(1e-12);
    }
  });
});

describe("steady shell", () => {
  it("gives off what the heater puts in", () => {
    const { balance } = steadyShell(tube);
    expect(balance.heater).toBe(200);
    expect(Math.abs(balance.stored)).toBeLessThan(2e-4);
    expect(balance.strip + balance.top + balance.ends).toBeCloseTo(200, 3);
    const rise = balance.liquid / (0.01 * 4180);
    expect(balance.endOutlet).toBeCloseTo(288 + rise, 4);
    expect(balance.topOutlet).toBeNull();
  });

  it("is room-warm without heat, hotter with more, cooler on top with a fan", () => {
    const cold = steadyShell({ ...tube, power: 0, endCooling: { kind: "still-air" } });
    for (const t of cold.temperature) expect(t).toBeCloseTo(293, 5);
    const at = (state: ReturnType<typeof steadyShell>, j: number): number => state.temperature[12 * 24 + j];
    const still = steadyShell(tube);
    const blown = steadyShell({ ...tube, topCooling: { kind: "blown-air", speed: 5 } });
    expect(at(steadyShell({ ...tube, power: 300 }), 0)).toBeGreaterThan(at(still, 0) + 50);
    expect(at(blown, 12)).toBeLessThan(at(still, 12) - 50);
    expect(at(still, 0)).toBeGreaterThan(at(still, 12));
  });

  it("gives the solver a wall within its own temperatures, and a vapour", () => {
    const state = steadyShell(tube);
    const size = gridSize({ radial: 8, angular: 16, axial: 16 });
    const wall = shellWall(state, tubeGrid(tube, size));
    expect(Math.max(...wall.temperature)).toBeLessThanOrEqual(Math.max(...state.temperature) + 1e-9);
    expect(Math.min(...wall.temperature)).toBeGreaterThanOrEqual(Math.min(...state.temperature) - 1e-9);
    const field = solveBalancedVapour(
      {
        element: "K",
        bore: 0.04,
        heatedLength: 0.4,
        length: 0.8,
        gas: "Ar",
        gasPressure: 3000,
        gasFilledAt: 293,
      },
      state,
      size,
    );
    expect(field.regime).toBe("diffusion");
    expect(Math.max(...field.density)).toBeGreaterThan(1e20);
  });

  it.each([
    [{ material: "cheese" }, "shell.material"],
    [{ thickness: 0 }, "shell.thickness"],
    [{ power: Number.NaN }, "shell.power"],
    [{ length: 0.1 }, "shell.length"],
    [{ topCooling: { kind: "blown-air", speed: -1 } }, "shell.topCooling.speed"],
    [
      { endCooling: { kind: "liquid", coolant: "milk", flow: 1, inlet: 290, conductance: 1 } },
      "shell.cooling.coolant",
    ],
  ] as [Partial<ShellInput>, string][])("refuses %o", (change, field) => {
    try {
      steadyShell({ ...tube, ...change });
    } catch (fault) {
      expect(fault).toBeInstanceOf(Refusal);
      expect((fault as Refusal).record.field).toBe(field);
      return;
    }
    throw new Error("not refused");
  });
});

describe("warnings of a shell", () => {
  it("are none for a moderate tube, and name a melting wall and a boiling loop", () => {
    expect(steadyShell(tube).warnings).toBeUndefined();
    const glass: ShellInput = {
      ...tube,
      material: "borosilicate",
      power: 400,
      endCooling: { kind: "liquid", coolant: "water", flow: 2e-5, inlet: 288, conductance: 500 },
    };
    const codes = steadyShell(glass).warnings!.map((w) => w.code);
    expect(codes).toContain("wall-too-hot");
    const kettle: ShellInput = {
      ...tube,
      power: 400,
      topCooling: { kind: "liquid", coolant: "water", flow: 2e-4, inlet: 288, conductance: 500 },
    };
    expect(steadyShell(kettle).warnings!.map((w) => w.code)).toContain("coolant-boils");
  });
});

describe("warm-up", () => {
  it("follows the closed form of a lumped body: T∞ + P/(hA) (1 − exp(−t hA/C))", () => {
    // Thick copper, little heat, one coefficient everywhere and no radiation: one temperature and one time constant.
    const lumped: ShellInput = {
      bore: 0.03,
      heatedLength: 0.06,
      length: 0.06,
      material: "copper",
      thickness: 0.01,
      hotStrip: 0.02,
      heater: { kind: "gas", efficiency: 0.5 },
      power: 2,
      topCooling: { kind: "fixed", coefficient: 8 },
      endCooling: { kind: "fixed", coefficient: 8 },
      room: 300,
      emissivity: 0,
    };
    const area = Math.PI * 0.05 * 0.06;
    const capacity = 8933 * 385 * Math.PI * 0.04 * 0.01 * 0.06;
    const tau = capacity / (8 * area);
    const run = warmUp(lumped, { duration: 3 * tau, tolerance: 0.01 });
    run.time.forEach((t, i) => {
      const expected = (1 / (8 * area)) * (1 - Math.exp(-t / tau));
      expect(Math.abs(run.top[i] - 300 - expected)).toBeLessThan(0.01 * (1 / (8 * area)));
    });
  });

  it("ends at the steady state, says when it was ready, and cools down again", () => {
    const steady = steadyShell(tube);
    const run = warmUp(tube, { duration: 7200, keep: [600, 7200] });
    const last = run.bottom.length - 1;
    expect(Math.abs(run.bottom[last] - steady.temperature[12 * 24])).toBeLessThan(0.5);
    expect(run.kept.length).toBe(2);
    const ready = readyTime(run);
    expect(ready).not.toBeNull();
    expect(ready!).toBeGreaterThan(600);
    expect(ready!).toBeLessThan(6000);
    for (let i = 1; i <= last; i++) expect(run.bottom[i]).toBeGreaterThan(run.bottom[i - 1] - 0.05);
    const down = warmUp(tube, { duration: 14400, start: run.kept[1], steps: [{ from: 0, power: 0 }] });
    expect(down.bottom[0]).toBeCloseTo(run.bottom[last], 6);
    expect(down.bottom[down.bottom.length - 1]).toBeLessThan(300);
  });

  it("does not call a tube ready that is still warming", () => {
    expect(readyTime(warmUp(tube, { duration: 300 }))).toBeNull();
  });

  it("ends its steps on every change of power", () => {
    const run = warmUp(tube, {
      duration: 60,
      steps: [
        { from: 0, power: 200 },
        { from: 30, power: 50 },
      ],
    });
    let put = 0;
    for (let i = 1; i < run.time.length; i++) put += run.heater[i] * (run.time[i] - run.time[i - 1]);
    // Each row records the power in force up to it: 30 s at 200 W, 30 s at 50 W.
    expect(put).toBeCloseTo(30 * 200 + 30 * 50, 6);
    expect(run.time).toContain(30);
  });
});
