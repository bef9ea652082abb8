import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { curveStage, overrideSetup, parseJsonObject, parseSetup, vapourStage } from "../setup/index.ts";
import type { Finding } from "./finding.ts";
import { lightFindings } from "./light-findings.ts";
import { rayFindings } from "./ray-findings.ts";

/** Findings about an example without drawing it: these ask for no pixel. */
function found(of: typeof lightFindings, name: string, ...settings: string[]): readonly Finding[] {
  const text = readFileSync(join(import.meta.dirname, "../../examples", `${name}.json`), "utf8");
  const setup = parseSetup(overrideSetup(parseJsonObject(text, name), settings));
  const vapour = vapourStage(setup, { grid: { radial: 16, angular: 16, axial: 16 }, tolerance: 1e-6 });
  const { columns, rows } = setup.camera;
  return of({
    setup,
    vapour,
    curve: curveStage(setup, vapour),
    light: new Float32Array(0),
    frame: { columns, rows, channels: 1, depth: 16, samples: new Uint16Array(0) },
    provenance: { program: "", setup: "", seed: 1, grid: vapour.field.size },
  });
}

it("a lamp's remedy gives it a temperature of its own, and the next lamp keeps none of it", () => {
  const remedyOf = (findings: readonly Finding[], code: string): string[] =>
    Object.entries(findings.find((each) => each.code === code)?.remedy?.set ?? {}).map(
      ([path, value]) => `${path}=${value}`,
    );
  const codes = (...settings: string[]): string[] =>
    found(lightFindings, "blue-twins", ...settings).map(({ code }) => code);
  const arc = "path.source.kind=xenon-arc";
  const mend = remedyOf(found(lightFindings, "blue-twins", arc), "lamp-temperature");
  expect(mend).toEqual(["path.source.temperature=6000 K"]);
  const mended = found(lightFindings, "blue-twins", arc, ...mend);
  expect(mended.map(({ code }) => code)).not.toContain("lamp-temperature");
  const halogen = remedyOf(mended, "lamp-has-lines");
  expect(halogen).toContain("path.source.kind=halogen");
  expect(codes(arc, ...mend, ...halogen)).not.toContain("lamp-temperature");
});

it("traced rays agree with a gentle curve's small angles, and differ by pixels where the vapour is dense", () => {
  const [gentle] = found(rayFindings, "sodium");
  expect(gentle).toMatchObject({ code: "rays-agree", level: "fine" });
  expect(gentle.value).toBeLessThan(1);
  const [steep] = found(rayFindings, "sodium", "vessel.bottom=420 degC");
  expect(steep).toMatchObject({ code: "rays-differ", level: "mind" });
  expect(steep.value).toBeGreaterThan(1);
  expect(steep.sentence).toContain(`${steep.value?.toFixed(1)} pixels`);
});
