// @vitest-environment node
import { describe, expect, it } from "vitest";
import { roundStep, roundTicks } from "./ticks.ts";

describe("ticks", () => {
  it("steps by 1, 2 or 5 times a power of ten", () => {
    expect([0.9, 1.3, 1.5, 3, 4, 8, 13].map((span) => roundStep(span * 6, 6))).toEqual([
      1, 1, 2, 2, 5, 10, 10,
    ]);
    expect(roundStep(3e-5, 6)).toBeCloseTo(5e-6, 12);
  });

  it("writes values with the decimals of the step and a real minus", () => {
    expect(roundTicks(-1, 1, 4).map((tick) => tick.text)).toEqual([
      "\u22121.0",
      "\u22120.5",
      "0.0",
      "0.5",
      "1.0",
    ]);
    expect(roundTicks(452.1, 463.2, 10).map((tick) => tick.text)).toEqual([
      "453",
      "454",
      "455",
      "456",
      "457",
      "458",
      "459",
      "460",
      "461",
      "462",
      "463",
    ]);
    expect(roundTicks(0, 0.3, 3).map((tick) => tick.value)).toEqual([0, 0.1, 0.2, 0.3]);
  });

  it("runs the same way whichever end comes first, and is empty without a span", () => {
    expect(roundTicks(5, -5, 5)).toEqual(roundTicks(-5, 5, 5));
    expect(roundTicks(3, 3, 5)).toEqual([]);
    expect(roundTicks(Number.NaN, 3, 5)).toEqual([]);
  });
});
