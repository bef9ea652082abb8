import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { heatingRefusal } from "../medium/index.ts";
import { Refusal } from "../quantity/index.ts";
import { ELEMENTS } from "../reference/index.ts";
import {
  examineSetup,
  FIELDS,
  fingerprint,
  HEATABLE,
  type JsonObject,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  setPath,
  setupSchema,
  vapourStage,
  metalOf,
} from "./index.ts";
import { editDistance, nearest } from "./nearest.ts";

const folder = join(import.meta.dirname, "../../examples");
const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
  (name) => name.endsWith(".json") && !name.startsWith("media"), // media for `index`, no setups
);

function example(name = "blue-twins.json"): JsonObject {
  return parseJsonObject(readFileSync(join(folder, name), "utf8"), name);
}

function refusal(action: () => unknown): Refusal {
  try {
    action();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("setup files", () => {
  it.each(files)("%s is read without a fault and says that it is invented", (name) => {
    const document = example(name);
    expect(examineSetup(document).faults).toEqual([]);
    expect(document["notes"]).toMatch(/invented/);
  });

  it("turns text with units into SI", () => {
    const setup = parseSetup(example());
    expect(setup.vessel.bore).toBeCloseTo(0.04, 15);
    expect(setup.vessel.wall.bottom).toBeCloseTo(558.15, 9);
    expect(setup.vessel.wall.hotStrip).toBeCloseTo(Math.PI, 12);
    expect(setup.vessel.gasPressure).toBeCloseTo(40 * 133.322, 0);
    expect(setup.path.plumbSlit).toBeCloseTo(15e-6, 15);
    expect(metalOf(setup, "a test").overrides.oscillatorStrength?.["CsI-455.66vac"]).toBe(0.01099);
    expect(setup.camera.exposure).toBeCloseTo(0.1, 15);
  });

  it.each<[string, string, string | number, string, RegExp]>([
    ["an unknown element", "medium.element", "Xx", "medium.element", /one of Li, Na/],
    ["mercury, with the reason", "medium.element", "Hg", "medium.element", /cumulative poison/],
    ["thallium, with the reason", "medium.element", "Tl", "medium.element", /poison/],
    ["a temperature gradient for a length", "vessel.bore", "250 K mm", "vessel.bore", /length/],
    ["negative pressure", "vessel.gasPressure", "-3 mbar", "vessel.gasPressure", /above 0 Pa/],
    ["no pressure", "vessel.gasPressure", "0 Pa", "vessel.gasPressure", /above 0 Pa/],
    ["a number without unit", "vessel.bore", 40, "vessel.bore", /with its unit/],
    ["an unknown glass", "path.disperser.crown", "BK", "path.disperser.crown", /six-digit/],
    ["twelve bits", "camera.bitDepth", 12, "camera.bitDepth", /8 or 16/],
    ["a beam wider than the bore", "path.beamSize", "60 mm", "path.beamSize", /radius/],
    ["heat longer than the tube", "vessel.heatedLength", "900 mm", "vessel.heatedLength", /vessel\.length/],
    [
      "an unknown line",
      "medium.strengths",
      { "CsI-1": 0.1 } as never,
      "medium.strengths.CsI-1",
      /CsI-455\.66vac/,
    ],
  ])("refuses %s", (_, path, value, field, said) => {
    const error = refusal(() => parseSetup(setPath(example(), path, value)));
    expect(error.record.field).toBe(field);
    expect(error.message).toMatch(said);
    expect(error.message).not.toMatch(/NaN|undefined|\n/);
  });

  it("refuses a newer version by name", () => {
    const error = refusal(() => parseSetup(setPath(example(), "version", 2)));
    expect(error.record.code).toBe("newer-version");
    expect(error.message).toMatch(/newer crossprism/);
  });

  it("names a misspelt field's neighbour", () => {
    const error = refusal(() => parseSetup(setPath(example(), "vessel.botom", "285 degC")));
    expect(error.record.field).toBe("vessel.botom");
    expect(error.record.hint).toMatch(/vessel\.bottom/);
  });

  it("finds every fault at once", () => {
    const broken = setPath(setPath(example(), "vessel.bore", "40 K"), "camera.columns", 3);
    const { faults } = examineSetup(broken);
    expect(faults.map((fault) => fault.field).sort()).toEqual(["camera.columns", "vessel.bore"]);
    expect(refusal(() => parseSetup(broken)).message).toMatch(/also at fault: camera\.columns/);
  });

  it("refuses text that is not JSON with one sentence", () => {
    expect(refusal(() => parseJsonObject("{", "bench.json")).message).toMatch(
      /^bench\.json: expected a JSON setup file/,
    );
    expect(refusal(() => parseJsonObject("[]", "bench.json")).record.code).toBe("not-a-setup");
  });
});

describe("overrides", () => {
  it("sets any field by path and an empty value restores the default", () => {
    const document = overrideSetup(example(), [
      "vessel.bottom=290 degC",
      "camera.seed=7",
      "path.inverted=true",
      "medium.strengths.CsI-455.66vac=0.012",
      "path.beamSize=",
    ]);
    const setup = parseSetup(document);
    expect(setup.vessel.wall.bottom).toBeCloseTo(563.15, 9);
    expect(setup.camera.seed).toBe(7);
    expect(setup.path.inverted).toBe(true);
    expect(metalOf(setup, "a test").overrides.oscillatorStrength).toEqual({
      "CsI-455.66vac": 0.012,
      "CsI-459.45vac": 0.00256,
    });
    expect(setup.path.beamSize).toBeCloseTo(4e-3, 15);
  });

  it("refuses unknown paths and missing values, naming what was written", () => {
    expect(refusal(() => overrideSetup(example(), ["vessel.borre=3 mm"])).message).toMatch(
      /--set vessel\.borre.*vessel\.bore/,
    );
    expect(refusal(() => overrideSetup(example(), ["bore"])).message).toMatch(/path\.to\.field=VALUE/);
    expect(refusal(() => parseSetup(overrideSetup(example(), ["camera.seed=many"]))).record.field).toBe(
      "camera.seed",
    );
  });

  it("leaves the document it was given as it was", () => {
    const document = example();
    const before = JSON.stringify(document);
    overrideSetup(document, ["vessel.bottom=290 degC"]);
    expect(JSON.stringify(document)).toBe(before);
  });
});

it("offers every metal of the published lines but the poisonous ones", () => {
  expect([...HEATABLE].sort()).toEqual(
    ELEMENTS.filter((element) => heatingRefusal(element) === undefined).sort(),
  );
});

describe("the schema", () => {
  it("describes every field and closes every group", () => {
    const text = JSON.stringify(setupSchema());
    for (const field of FIELDS) expect(text).toContain(JSON.stringify(field.sentence).slice(1, -1));
    const schema = setupSchema() as {
      additionalProperties: boolean;
      required: string[];
      properties: Record<string, { required: string[] }>;
    };
    expect(schema.additionalProperties).toBe(false);
    expect(schema.required).toEqual(expect.arrayContaining(["medium", "vessel"]));
    expect(schema.properties["vessel"]?.required).toEqual([]); // each of its ways names its own
  });
});

describe("a wall by its heater", () => {
  const heated = "heater-sodium.json";

  it("is read into a shell, and its wall into what thermocouples would read", () => {
    const setup = parseSetup(example(heated));
    expect(setup.shell?.power).toBe(120);
    expect(setup.shell?.topCooling).toEqual({ kind: "still-air" });
    const { bottom, top, ends } = setup.vessel.wall;
    expect(bottom).toBeGreaterThan(top + 20);
    expect(top).toBeGreaterThan(ends + 20);
    expect(ends).toBeGreaterThan(setup.shell?.room ?? Infinity);
    const more = parseSetup(overrideSetup(example(heated), ["vessel.heater.power=150 W"]));
    expect(more.vessel.wall.bottom).toBeGreaterThan(bottom + 20);
  });

  it.each(["vessel.bottom", "vessel.top", "vessel.ends"])("is never given beside %s", (path) => {
    const error = refusal(() => parseSetup(setPath(example(heated), path, "200 degC")));
    expect(error.record.code).toBe("wall-given-twice");
    expect(error.record.field).toBe(path);
    expect(error.message).toMatch(/never both/);
  });

  it("needs one of the two, the power, and what the tube is made of", () => {
    const missing = (path: string, name: string) =>
      refusal(() => parseSetup(setPath(example(name), path, undefined))).record.field;
    expect(missing("vessel.bottom", "blue-twins.json")).toBe("vessel.bottom");
    expect(missing("vessel.heater.power", heated)).toBe("vessel.heater.power");
    expect(missing("vessel.tubeMaterial", heated)).toBe("vessel.tubeMaterial");
  });

  it("takes a liquid loop with flow and inlet, and refuses an unknown way to cool", () => {
    const setup = parseSetup(
      overrideSetup(example(heated), [
        "vessel.heater.topCooling=liquid",
        "vessel.heater.topCoolant=oil",
        "vessel.heater.topFlow=30 g/s",
        "vessel.heater.topInlet=40 degC",
      ]),
    );
    expect(setup.shell?.topCooling).toMatchObject({ kind: "liquid", coolant: "oil" });
    const loop = setup.shell?.topCooling;
    if (loop?.kind !== "liquid") throw new Error("no loop");
    expect(loop.flow).toBeCloseTo(0.03, 12);
    expect(loop.inlet).toBeCloseTo(313.15, 9);
    const error = refusal(() => parseSetup(setPath(example(heated), "vessel.heater.topCooling", "ice")));
    expect(error.record.field).toBe("vessel.heater.topCooling");
  });

  it("is one of the schema's six ways to say what the vessel is", () => {
    const schema = setupSchema() as { properties: { vessel: { oneOf: { required: string[] }[] } } };
    expect(schema.properties.vessel.oneOf.map((way) => way.required)).toEqual([
      ["bottom", "top", "gasPressure"],
      ["heater", "tubeMaterial", "gasPressure"],
      ["thermocouples", "gasPressure"],
      ["kind", "sideArm", "body"],
      ["kind", "flameDensity", "flameTemperature", "gasPressure"],
      ["kind"],
    ]);
  });

  it("carries the vapour: dense below, denser where the bottom is moved up", () => {
    const setup = parseSetup(example(heated));
    const grid = { radial: 8, angular: 16, axial: 16 };
    const steady = vapourStage(setup, { grid });
    expect(steady.middle.columnGradient).toBeLessThan(0);
    const { wall } = setup.vessel;
    const warmer = { ...setup, vessel: { ...setup.vessel, wall: { ...wall, bottom: wall.bottom + 2 } } };
    const moved = vapourStage(warmer, { grid });
    const ratio = moved.middle.columnDensity / steady.middle.columnDensity;
    // Sodium's saturated density grows by some 3.5 % per kelvin here; the top, not moved, holds some of it back.
    expect(ratio).toBeGreaterThan(1.02);
    expect(ratio).toBeLessThan(1.08);
  });
});

describe("names", () => {
  it("measures edit distance", () => {
    expect(editDistance("kitten", "sitting")).toBe(3);
    expect(nearest("vessel.botom", ["vessel.bottom", "vessel.bore"])).toBe("vessel.bottom");
    expect(nearest("zzz", ["vessel.bottom"])).toBeUndefined();
  });

  it("fingerprints content, not the order of its keys", () => {
    // FNV-1a test vector of the draft: the hash of "a" is af63dc4c8601ec8c; of the JSON text "a" with quotes it differs.
    expect(fingerprint({ a: 1, b: [2, 3] })).toBe(fingerprint({ b: [2, 3], a: 1 }));
    expect(fingerprint({ a: 1 })).not.toBe(fingerprint({ a: 2 }));
    expect(fingerprint({})).toMatch(/^[0-9a-f]{16}$/);
  });
});
