import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { overrideSetup, parseJsonObject, parseSetup, type Setup } from "../setup/index.ts";
import { toleranceAnswer } from "./spread.ts";
import {
  type Row,
  type ToleranceJob,
  toleranceJob,
  toleranceRunner,
  toleranceUnits,
  type ToleranceWish,
} from "./tolerance.ts";

function setupOf(name: string, ...settings: string[]): Setup {
  const text = readFileSync(join(import.meta.dirname, "../../examples", `${name}.json`), "utf8");
  return parseSetup(overrideSetup(parseJsonObject(text, name), settings));
}

const wish = (inputs: string[], draws: number, correlations: string[] = []): ToleranceWish => ({
  inputs,
  correlations,
  draws,
  seed: 3,
});

function rowsOf(job: ToleranceJob): Row[] {
  const run = toleranceRunner(job);
  return Array.from({ length: toleranceUnits(job) }, (_, i) => run(i));
}

const strontium = setupOf("strontium");

describe("tolerance", () => {
  it("first order and draws agree where the model is linear, and both with the exact answer", () => {
    // Height on the sensor is proportional to both focal lengths: relative variances add.
    const job = toleranceJob(strontium, wish(["path.focalLength=2 %", "path.cameraFocalLength=1 %"], 150));
    const { height } = toleranceAnswer(job, rowsOf(job)).spreads;
    const exact = Math.hypot(0.02, 0.01);
    expect(height.firstOrder.standardUncertainty / height.nominal).toBeCloseTo(exact, 6);
    const draws = height.draws!;
    expect(Math.abs(draws.standardDeviation / height.nominal - exact)).toBeLessThan(
      (4 * draws.standardError) / height.nominal,
    );
    expect(height.nonlinear).toBe(false);
    expect(height.improveFirst).toBe("path.focalLength");
    expect(height.firstOrder.shares[0].share).toBeCloseTo(0.8, 5);
  });

  it("correlated inputs add, or cancel", () => {
    const both = ["path.focalLength=2 %", "path.cameraFocalLength=2 %"];
    const relative = (rho: number): number => {
      const job = toleranceJob(
        strontium,
        wish(both, 100, [`path.focalLength,path.cameraFocalLength=${rho}`]),
      );
      const { height } = toleranceAnswer(job, rowsOf(job)).spreads;
      const draws = height.draws!;
      expect(Math.abs(draws.standardDeviation - height.firstOrder.standardUncertainty)).toBeLessThan(
        4 * draws.standardError + 1e-4 * height.nominal,
      );
      expect(height.firstOrder.shares.reduce((sum, share) => sum + share.share, 0)).toBeCloseTo(1, 9);
      return height.firstOrder.standardUncertainty / height.nominal;
    };
    expect(relative(0.5)).toBeCloseTo(0.02 * Math.sqrt(3), 6);
    expect(relative(-0.9)).toBeCloseTo(0.02 * Math.sqrt(0.2), 6);
  });

  it("draws depart from first order where the model is curved, and it says so", () => {
    // Height in thicknesses goes as 1/slit where the slit rules: with a relative spread s the mean grows by about s².
    const job = toleranceJob(strontium, wish(["path.levelSlit=17 um"], 500));
    const { heightTimes, height } = toleranceAnswer(job, rowsOf(job)).spreads;
    expect(heightTimes.nonlinear).toBe(true);
    expect(heightTimes.draws!.mean / heightTimes.nominal).toBeGreaterThan(1.05);
    expect(heightTimes.draws!.mean / heightTimes.nominal).toBeLessThan(1.25);
    expect(height.nonlinear).toBe(false);
    expect(height.improveFirst).toBeNull();
  });

  it("a wrong thermometer changes the density, not what the curve says of it", () => {
    const job = toleranceJob(strontium, wish(["vessel.bottom=3 K", "knowledge.strength=2 %"], 0));
    const { density, asRead } = toleranceAnswer(job, rowsOf(job)).spreads;
    const share = (spread: typeof density, input: string) =>
      spread.firstOrder.shares.find((each) => each.input === input)!.contribution;
    expect(share(density, "vessel.bottom") / density.nominal).toBeGreaterThan(0.06);
    expect(Math.abs(share(asRead, "vessel.bottom"))).toBeLessThan(0.003);
    expect(share(asRead, "knowledge.strength")).toBeCloseTo(0.02, 3);
    expect(asRead.nominal).toBeCloseTo(1, 12);
    expect(density.draws).toBeNull();
  });

  it("takes the usual errors, with the published uncertainty of the strength", () => {
    const job = toleranceJob(strontium, wish([], 0));
    expect(job.inputs.length).toBeGreaterThan(9);
    const strength = job.inputs.find((input) => input.name === "knowledge.strength");
    expect(strength?.standard).toBeCloseTo(0.03 / 5.22, 4); // lifetime 5.22(3) ns
    expect(toleranceUnits(job)).toBe(1 + 2 * job.inputs.length);
  });

  it("counts draws that lie outside what can be answered", () => {
    const job = toleranceJob(strontium, wish(["path.beamHeight=30 mm"], 40));
    const answer = toleranceAnswer(job, rowsOf(job));
    expect(answer.refused).toBeGreaterThan(5);
    expect(answer.firstRefusal).toMatch(/beam/);
  });

  const faults: [string, ToleranceWish, RegExp][] = [
    [
      "a temperature on the Celsius scale",
      wish(["vessel.bottom=3 degC"], 0),
      /difference of temperature in kelvin/,
    ],
    ["a field that is no number", wish(["medium.element=3"], 0), /medium\.element/],
    ["an unknown field", wish(["vessel.botom=3 K"], 0), /vessel\.botom/],
    ["unknown knowledge", wish(["knowledge.luck=3 %"], 0), /knowledge\.pressure/],
    ["a negative size", wish(["vessel.bottom=-3 K"], 0), /vessel\.bottom/],
    ["an input twice", wish(["vessel.bottom=3 K", "vessel.bottom=2 K"], 0), /each input once/],
    ["no size", wish(["vessel.bottom"], 0), /--error/],
    ["a negative share", wish(["path.focalLength=-3 %"], 0), /0 or more/],
    [
      "a correlation with a stranger",
      wish(["vessel.bottom=3 K"], 0, ["vessel.bottom,vessel.top=0.5"]),
      /--together/,
    ],
    [
      "a correlation of 2",
      wish(["vessel.bottom=3 K", "vessel.top=3 K"], 0, ["vessel.bottom,vessel.top=2"]),
      /--together/,
    ],
  ];
  it.each(faults)("refuses %s", (_, given, said) => {
    expect(() => toleranceJob(strontium, given)).toThrow(Refusal);
    expect(() => toleranceJob(strontium, given)).toThrow(said);
  });
});
