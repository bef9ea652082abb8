import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { parseJsonObject } from "../setup/index.ts";
import { parseAxis, settingsOf, sweepJob, sweepRunner } from "./sweep.ts";

const document = parseJsonObject(
  readFileSync(join(import.meta.dirname, "../../examples/strontium.json"), "utf8"),
  "strontium.json",
);

describe("sweep", () => {
  it("reads ranges and lists", () => {
    expect(parseAxis("vessel.bottom=560..600 degC in 5")).toEqual({
      kind: "range",
      path: "vessel.bottom",
      unit: "K",
      from: 833.15,
      to: 873.15,
      count: 5,
    });
    const pressure = parseAxis("vessel.gasPressure=5 Torr..20 mbar");
    if (pressure.kind !== "range") throw new Error("no range");
    expect(pressure.from).toBeCloseTo(666.61, 1);
    expect(pressure.to).toBeCloseTo(2000, 6);
    expect(pressure.count).toBeUndefined();
    expect(parseAxis("path.beamHeight=-2..1.5e0 mm")).toMatchObject({ from: -0.002, to: 0.0015 });
    expect(parseAxis("path.stray=0..0.1 in 3")).toMatchObject({ unit: "1", from: 0, to: 0.1, count: 3 });
    expect(parseAxis("medium.element=Na, K")).toEqual({
      kind: "list",
      path: "medium.element",
      values: ["Na", "K"],
    });
  });

  it("a grid has every combination, the last parameter fastest", () => {
    const job = sweepJob(
      document,
      [parseAxis("medium.element=Sr,Ca"), parseAxis("vessel.bottom=600..620 degC in 3")],
      "grid",
      0,
    );
    expect(job.points).toEqual([
      ["Sr", "600 degC"],
      ["Sr", "610 degC"],
      ["Sr", "620 degC"],
      ["Ca", "600 degC"],
      ["Ca", "610 degC"],
      ["Ca", "620 degC"],
    ]);
    expect(settingsOf(job, 1)).toEqual(["medium.element=Sr", "vessel.bottom=610 degC"]);
  });

  it.each(["sobol", "r2"] as const)("%s fills the ranges, for each value of a list", (filling) => {
    const axes = ["vessel.bottom=600..620 degC", "medium.element=Sr,Ca", "path.plumbSlit=10..30 um"].map(
      parseAxis,
    );
    const job = sweepJob(document, axes, filling, 16);
    expect(job.points).toHaveLength(32);
    const celsius = job.points.slice(0, 16).map((point) => Number.parseFloat(point[0]));
    if (filling === "sobol") expect(new Set(celsius.map((c) => Math.floor((c - 600) / 1.25))).size).toBe(16);
    expect(new Set(celsius).size).toBe(16);
    expect(Math.min(...celsius)).toBeGreaterThanOrEqual(600);
    expect(Math.max(...celsius)).toBeLessThan(620);
    expect(job.points[0][1]).toBe("Sr");
    expect(job.points[16][1]).toBe("Ca");
  });

  it("forecasts each point, and says what was refused", () => {
    const job = sweepJob(document, [parseAxis("vessel.bottom=600 degC,610 degC,hot")], "grid", 0);
    const run = sweepRunner(job);
    const [cool, hot, refused] = [run(0), run(1), run(2)];
    if (!("values" in cool) || !("values" in hot)) throw new Error("no values");
    expect(hot.values["density"]).toBeGreaterThan(cool.values["density"] ?? 0);
    expect("refused" in refused ? refused.refused : "").toMatch(/vessel\.bottom/);
    expect(run(0)).toEqual(cool);
  });

  const faults: [string, () => unknown, RegExp][] = [
    ["nothing", () => sweepJob(document, [], "grid", 0), /--over/],
    [
      "an unknown field",
      () => sweepJob(document, [parseAxis("vessel.botom=1,2")], "grid", 0),
      /did you mean vessel\.bottom/,
    ],
    ["a falling range", () => parseAxis("vessel.bottom=620..600 degC"), /a range that rises/],
    ["a range of names", () => parseAxis("medium.element=K..Na"), /is a number/],
    ["a count of one", () => parseAxis("vessel.bottom=600..620 degC in 1"), /2 to/],
    [
      "too many points",
      () =>
        sweepJob(
          document,
          [1, 2, 3].map((k) =>
            parseAxis(`path.${["levelSlit", "plumbSlit", "defocus"][k - 1]}=1..9 um in 999`),
          ),
          "grid",
          0,
        ),
      /points/,
    ],
    ["no value", () => parseAxis("vessel.bottom"), /--over/],
  ];
  it.each(faults)("refuses %s", (_, action, said) => {
    expect(action).toThrow(Refusal);
    expect(action).toThrow(said);
  });
});
