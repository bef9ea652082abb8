import { describe, expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { parseSetup } from "../../setup/index.ts";
import { ELEMENTS } from "../state/bench.ts";
import { FINE_STEP, moved, placeOf, placesOf, railed, STEP, stood } from "./places.ts";

const setup = parseSetup(demo);
const withRail = (values: Readonly<Record<string, string>>) =>
  parseSetup({
    ...demo,
    path: {
      ...demo.path,
      rail: Object.fromEntries(Object.entries(values).map(([path, text]) => [path.split(".")[2], text])),
    },
  });

describe("places on the rail", () => {
  it("stands everything from the lamp on, in the light's order", () => {
    const places = placesOf(setup);
    expect(places.map(({ id }) => id)).toEqual([...ELEMENTS]);
    for (let i = 1; i < places.length; i++) expect(places[i].from).toBeGreaterThan(places[i - 1].from);
    expect((places[0].from + places[0].to) / 2).toBe(0);
  });

  it("moves the tube between its neighbours and leaves everything else where it is", () => {
    const values = moved(setup, "tube", 0.023, STEP);
    expect(values).toEqual({
      "path.rail.collimatorToTube": "90 mm",
      "path.rail.tubeToLens": "50 mm",
    });
    const [before, after] = [placesOf(setup), placesOf(withRail(values ?? {}))];
    for (const id of ELEMENTS) {
      const shift = placeOf(after, id).from - placeOf(before, id).from;
      expect(shift, id).toBeCloseTo(id === "tube" ? 0.02 : 0, 12);
    }
  });

  it("takes the plumb slit's lenses with it, each at its focal distance", () => {
    const values = moved(setup, "plumb-slit", 0.0321, FINE_STEP);
    const [before, after] = [placesOf(setup), placesOf(withRail(values ?? {}))];
    for (const id of ["focusing-lens", "plumb-slit", "second-collimator"] as const)
      expect(placeOf(after, id).from - placeOf(before, id).from, id).toBeCloseTo(0.032, 12);
    expect(placeOf(after, "camera").from).toBeCloseTo(placeOf(before, "camera").from, 12);
  });

  it("counts the next move from the last, before anything was computed anew", () => {
    const once = railed(setup, moved(setup, "tube", STEP, STEP) ?? {});
    expect(moved(once, "tube", STEP, STEP)).toEqual({
      "path.rail.collimatorToTube": "90 mm",
      "path.rail.tubeToLens": "50 mm",
    });
  });

  it("stops before things touch, and says so when nothing moves", () => {
    expect(moved(setup, "tube", 5, STEP)).toEqual({
      "path.rail.collimatorToTube": "130 mm",
      "path.rail.tubeToLens": "10 mm",
    });
    expect(moved(setup, "tube", 0.001, STEP)).toBeUndefined();
    expect(stood(setup, "tube")).toEqual({
      "path.rail.collimatorToTube": "70 mm",
      "path.rail.tubeToLens": "70 mm",
    });
    expect(moved(setup, "lamp", 1, STEP)).toEqual({ "path.rail.lampToCondenser": "10 mm" });
    expect(moved(setup, "camera", 0.1, STEP)).toEqual({ "path.rail.disperserToCamera": "170 mm" });
  });
});
