// @vitest-environment node
import { describe, expect, it } from "vitest";
import type { Sight } from "../worker/protocol.ts";
import { readHeld } from "./held.ts";
import { differences, numbersOf } from "./rows.ts";

const sight = (over: Partial<Sight>): Sight =>
  ({
    lines: [{ label: "a", wavelength: 455.7e-9, halfGap: 1e-10, edgeDeflection: 4e-4 }],
    columnDensity: 2e21,
    columnGradient: -1e23,
    onAxis: { density: 1, temperature: 500, scaleHeight: 1 },
    supersaturation: 2,
    rayleigh: 100,
    zeroBetweenLines: null,
    ...over,
  }) as Sight;

describe("what two forecasts differ in", () => {
  it("sets numbers beside each other with their ratio, and says where there is none", () => {
    const rows = numbersOf(sight({}), sight({ columnDensity: 3e21, lines: [] }));
    const of = (name: string) => rows.find((row) => row.name === name);
    expect(of("column density")?.ratio).toBe("1.50");
    expect(of("half-gap 1")).toMatchObject({ held: "0.100\u202fnm", open: "none", ratio: "" });
    expect(of("zero between the lines, vacuum")).toMatchObject({ held: "none", open: "none" });
  });

  it("lists the fields that differ, a left-out one at its usual value", () => {
    const rows = differences(
      { medium: { element: "Cs" }, vessel: { bottom: "285 degC" }, path: { beamHeight: "0 mm" } },
      { medium: { element: "K" }, vessel: { bottom: "285 degC" }, path: {} },
    );
    expect(rows).toEqual([{ label: "metal", held: "caesium", open: "potassium" }]);
  });
});

describe("the held setup", () => {
  it("is nothing where the browser's memory holds nonsense", () => {
    const storage = { getItem: () => "{oops" } as unknown as Storage;
    expect(readHeld(storage)).toBeUndefined();
    expect(readHeld(undefined)).toBeUndefined();
  });
});
