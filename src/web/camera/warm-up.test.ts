// @vitest-environment node
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { forecast } from "../../setup/index.ts";
import { openSetup } from "../measure/open-frames.ts";
import type { SetupText } from "../state/setup-text.ts";
import { foretellWarmUp } from "./warm-up.ts";

const example = (name: string): SetupText =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}.json`, import.meta.url), "utf8")) as SetupText;

describe("the warm-up beside the trends", () => {
  it("begins with little and ends at the setup's own steady state", () => {
    const setup = example("heater-sodium");
    const { time, columnDensity, columnGradient } = foretellWarmUp({ task: "warm-up", setup });
    const last = time.length - 1;
    expect(time[0]).toBeLessThan(600);
    expect(columnDensity[0] / columnDensity[last]).toBeLessThan(0.05);
    const steady = forecast(openSetup(setup)).vapour.middle;
    expect(columnDensity[last] / steady.columnDensity).toBeCloseTo(1, 1);
    expect(columnGradient[last] / steady.columnGradient).toBeCloseTo(1, 1);
  });

  it("is empty where wall temperatures are given instead of a heater", () => {
    expect(foretellWarmUp({ task: "warm-up", setup: example("blue-twins") }).time).toHaveLength(0);
  });
});
