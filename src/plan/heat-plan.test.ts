import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { overrideSetup, parseJsonObject, parseSetup, type Setup } from "../setup/index.ts";
import { steadyShell, wallReadings, warmUp } from "../vessel/index.ts";
import { heatAt, timeReaching } from "./heat-curve.ts";
import { type HeatPlan, heatPlan } from "./heat-plan.ts";

function setupOf(name: string, ...settings: string[]): Setup {
  const text = readFileSync(join(import.meta.dirname, "../../examples", `${name}.json`), "utf8");
  return parseSetup(overrideSetup(parseJsonObject(text, name), settings));
}

describe("the day's heat of a tube with a heater", () => {
  const setup = setupOf("heater-sodium");
  let plan: HeatPlan;
  beforeAll(() => {
    plan = heatPlan(setup);
  });

  it("ends where the heater's own power rests, never above that power, never faster than the ramp", () => {
    if (setup.shell === undefined) throw new Error("a heater is wanted");
    const rest = wallReadings(steadyShell(setup.shell));
    expect(plan.basis).toBe("heater");
    expect(plan.target.bottom).toBeCloseTo(rest.bottom, 1);
    const { time, bottom, power } = plan.warm;
    expect(bottom[bottom.length - 1]).toBeCloseTo(rest.bottom, 0);
    expect(Math.max(...power)).toBeLessThanOrEqual(setup.shell.power);
    for (let i = 1; i < time.length; i++)
      expect((bottom[i] - bottom[i - 1]) / (time[i] - time[i - 1])).toBeLessThanOrEqual(plan.ramp);
    expect(plan.ready).toBeGreaterThan((rest.bottom - 293.15 - 2) / plan.ramp);
  });

  it("the settings set by hand lead to nearly the same temperatures", () => {
    if (setup.shell === undefined || plan.ready === null) throw new Error("a heater is wanted");
    const run = warmUp(setup.shell, { duration: plan.ready, steps: plan.settings });
    expect(Math.abs(run.bottom[run.bottom.length - 1] - heatAt(plan.warm, plan.ready).bottom)).toBeLessThan(
      5,
    );
    expect(plan.settings.length).toBeLessThan(12);
  });

  it("cools by itself below 50 °C, the metal's own melting point on the way", () => {
    const { time, bottom } = plan.cool;
    expect(plan.cold).toBe(time[time.length - 1]);
    for (let i = 1; i < bottom.length; i++) expect(bottom[i]).toBeLessThan(bottom[i - 1]);
    expect(bottom[0]).toBeCloseTo(plan.target.bottom, 1);
  });
});

describe("the day's heat of a tube that states temperatures", () => {
  it("assumes a tube that rests at them, and says so", () => {
    const setup = setupOf("sodium");
    const plan = heatPlan(setup);
    expect(plan.basis).toBe("assumed");
    expect(Math.abs(plan.target.bottom - setup.vessel.wall.bottom)).toBeLessThan(1);
    expect(Math.abs(plan.target.top - setup.vessel.wall.top)).toBeLessThan(5);
    expect(plan.sentence).toMatch(/states temperatures and no heater.*steel-304.*State the heater/);
  });
});

describe("the day's heat of what is no tube", () => {
  it("a sealed cell goes at the usual rate, and its oven's cooling is not told", () => {
    const text = readFileSync(join(import.meta.dirname, "../../examples/sodium.json"), "utf8");
    const { vessel } = parseJsonObject(text, "sodium") as { vessel: { bore: string } };
    const { bore } = vessel;
    const cell = parseSetup({
      ...parseJsonObject(text, "sodium"),
      vessel: { kind: "cell", bore, pathLength: "50 mm", sideArm: "200 degC", body: "220 degC" },
    });
    const plan = heatPlan(cell);
    expect(plan.basis).toBe("rate");
    expect(plan.ready).toBeCloseTo((plan.target.bottom - 293.15) / (5 / 60), 6);
    expect(plan.cold).toBeNull();
    expect(heatAt(plan.cool, 100).bottom).toBe(plan.target.bottom);
  });
});

describe("reading a curve", () => {
  const curve = {
    time: [0, 100, 200],
    bottom: [300, 350, 360],
    top: [300, 320, 330],
    ends: [300, 300, 300],
    power: [0, 10, 20],
  };
  it("is linear between its points, held beyond them; the power is that of the stretch", () => {
    expect(heatAt(curve, 50)).toEqual({ bottom: 325, top: 310, ends: 300, power: 10 });
    expect(heatAt(curve, 1000)).toEqual({ bottom: 360, top: 330, ends: 300, power: 20 });
    const one = { time: [0], bottom: [400], top: [390], ends: [300], power: [0] };
    expect(heatAt(one, 50)).toEqual({ bottom: 400, top: 390, ends: 300, power: 0 });
    expect(timeReaching(curve, 325)).toBe(50);
    expect(timeReaching(curve, 400)).toBeNull();
  });
});
