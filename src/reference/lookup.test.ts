import { describe, expect, it } from "vitest";
import { Refusal } from "../quantity/index.ts";
import { lookup, storedValues } from "./lookup.ts";

describe("lookup", () => {
  it("finds by path, by the beginning of a path and by words", () => {
    expect(lookup("lines.KI-766.70vac.f_absorption")).toMatchObject([
      { value: 0.6682, unit: "1", origin: "looked-up", bare: false },
    ]);
    expect(lookup("glasses.517642").map((each) => each.path)).toContain("glasses.517642.B.2");
    expect(lookup("K D2 f_absorption").map((each) => each.value)).toEqual([0.6682, 0.67]);
    expect(lookup("Boltzmann constant")[0].path).toBe("constants.k_B");
    expect(lookup("hyperfine.39K.levels.4p 2P3/2.A")[0]).toMatchObject({
      value: 6.093,
      unit: "MHz",
    });
  });

  it("says which published strength is not the one reckoned with, and from what a bare number was worked out", () => {
    expect(lookup("lines.SrI-460.86vac.f_absorption")[0].note).toContain(
      '"fourth_source" of this line is used',
    );
    const [worked] = lookup("lines.SrI-460.86vac.fourth_source.f_from_lifetime");
    expect(worked).toMatchObject({ value: 1.83, origin: "computed", bare: true });
    expect(worked.source).toContain("worked out from Nagel");
  });

  it("names near misses", () => {
    expect(() => lookup("lines.KI-766.7vac.f")).toThrow("nearest: lines.KI-766.70vac");
    expect(() => lookup("  ")).toThrow(Refusal);
    expect(() => lookup("xqzv")).toThrow(/received "xqzv"\.$/);
  });

  it("gives every figure its own path, and every record a source except the zero of energy", () => {
    const all = storedValues();
    expect(new Set(all.map((each) => each.path)).size).toBe(all.length);
    const bare = all.filter((each) => !each.bare && (each.source === undefined || each.origin === undefined));
    expect(bare.map((each) => each.path)).toEqual([
      "lines.CaI-422.79vac.lower.energy",
      "lines.CaI-657.46vac.lower.energy",
    ]);
  });
});
