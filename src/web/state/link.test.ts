// @vitest-environment node
import { describe, expect, it } from "vitest";
import { type Bench, FIRST_VIEW, benchFrom } from "./bench.ts";
import { fromHash, toHash } from "./link.ts";

const bench: Bench = {
  setup: {
    version: 1,
    title: "Blue twins, µ and °",
    medium: { element: "Cs" },
    vessel: { bottom: "285 degC" },
  },
  view: {
    element: "camera",
    show: "both",
    wavelengths: "vacuum",
    cursor: 4.5711e-7,
    leaf: "explain",
    colours: "eye",
    tints: true,
    minute: 40,
  },
};

describe("link", () => {
  it("carries a bench there and back", async () => {
    const hash = await toHash(bench);
    expect(hash).toMatch(/^#bench=[\w-]+$/);
    expect(benchFrom(await fromHash(hash))).toEqual(bench);
  });

  it("says nothing about an address without a bench, and one sentence about a damaged one", async () => {
    expect(await fromHash("#elsewhere")).toBeUndefined();
    const hash = await toHash(bench);
    await expect(fromHash(hash.slice(0, 40))).rejects.toThrow(/^The link is damaged/);
  });

  it("refuses to unfold into something endless", async () => {
    const bomb = { ...bench, setup: { notes: "x".repeat(300_000) } };
    await expect(fromHash(await toHash(bomb))).rejects.toThrow(/^The link is damaged/);
  });
});

describe("bench from JSON", () => {
  it("takes a plain setup file with the first view", () => {
    expect(benchFrom(bench.setup)).toEqual({ setup: bench.setup, view: FIRST_VIEW });
  });

  it("mends an unknown view and refuses what is no bench", () => {
    expect(benchFrom({ setup: bench.setup, view: { element: "anvil" } })).toEqual({
      setup: bench.setup,
      view: FIRST_VIEW,
    });
    for (const wrong of [undefined, null, 3, "text", [], {}]) expect(benchFrom(wrong)).toBeUndefined();
  });
});
