// @vitest-environment node
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { forecast, type JsonObject, parseSetup } from "../../setup/index.ts";
import { foretellWarmUp } from "./warm-up.ts";

const example = (name: string): JsonObject =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}.json`, import.meta.url), "utf8")) as JsonObject;

describe("the warm-up beside the trends", () => {
  it("begins with little and ends at the setup's own steady state", () => {
    const setup = example("heater-sodium");
    const { time, columnDensity, columnGradient } = foretellWarmUp({ task: "warm-up", setup });
    const last = time.length - 1;
    expect(time[0]).toBeLessThan(600);
    expect(columnDensity[0] / columnDensity[last]).toBeLessThan(0.05);
    const steady = forecast(parseSetup(setup)).vapour.middle;
    expect(columnDensity[last] / steady.columnDensity).toBeCloseTo(1, 1);
    expect(columnGradient[last] / steady.columnGradient).toBeCloseTo(1, 1);
  });

  it("is empty where wall temperatures are given instead of a heater", () => {
    expect(foretellWarmUp({ task: "warm-up", setup: example("blue-twins") }).time).toHaveLength(0);
  });
});
