/** Diagnosis of pictures that our own chain makes from a bench that is not what its setup file says. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expose, renderLamp } from "../picture/index.ts";
import { curveStage, coldCurve } from "../setup/forecast.ts";
import { parseJsonObject, parseSetup, pictureStage, type Setup, vapourStage } from "../setup/index.ts";
import { CAUSE_CODES, CAUSES, diagnose, type Diagnosis } from "./index.ts";

const text = readFileSync(new URL("../../examples/potassium-grating.json", import.meta.url), "utf8");
const whole = parseSetup(parseJsonObject(text, "potassium-grating"));
/** A smaller sensor, to be quick. */
const nominal: Setup = { ...whole, camera: { ...whole.camera, columns: 860, rows: 500 } };
/** Invented lamp: four lines in view of the nominal bench, m. */
const LAMP = [763.7208e-9, 766.9e-9, 770.4e-9, 772.6e-9];

interface Bench {
  readonly hot?: (setup: Setup) => Setup;
  readonly both?: (setup: Setup) => Setup;
  readonly dim?: number;
}

/** Frames of a bench that differs from the setup, hot picture alone or both, and what is said of them under the nominal setup. */
function said({ hot = (s) => s, both = (s) => s, dim = 1 }: Bench, seed = 3): Diagnosis {
  const seeded = (s: Setup, k: number): Setup => ({ ...s, camera: { ...s.camera, seed: k } });
  const real = seeded(hot(both(nominal)), seed);
  const curve = curveStage(real, vapourStage(real));
  const coldBench = seeded(both(nominal), seed + 1);
  const cold = pictureStage(coldBench, coldCurve(curveStage(coldBench, vapourStage(coldBench)))).frame;
  const { light } = pictureStage(real, curve);
  const dimmed = dim === 1 ? light : light.map((v) => v * dim);
  const lines = LAMP.map((wavelength) => ({ wavelength, intensity: 0.8 }));
  const lamp = expose(
    renderLamp(lines, curve.map, curve.scale, coldBench.camera),
    coldBench.camera,
    seed + 2,
  );
  return diagnose({ hot: expose(dimmed, real.camera, seed), cold, lamp, lampLines: LAMP, setup: nominal });
}

const path =
  (change: Partial<Setup["path"]>) =>
  (s: Setup): Setup => ({ ...s, path: { ...s.path, ...change } });
const camera =
  (change: Partial<Setup["camera"]>) =>
  (s: Setup): Setup => ({ ...s, camera: { ...s.camera, ...change } });
const bottom =
  (shift: number) =>
  (s: Setup): Setup => ({
    ...s,
    vessel: { ...s.vessel, wall: { ...s.vessel.wall, bottom: s.vessel.wall.bottom + shift } },
  });

describe("diagnose", () => {
  const cases: [string, Bench, string][] = [
    ["a good picture", {}, "as-predicted"],
    ["metal 25 K colder", { hot: bottom(-25) }, "vapour-thin"],
    ["metal 25 K hotter", { hot: bottom(25) }, "vapour-dense"],
    ["a lens more", { both: path({ inverted: !nominal.path.inverted }) }, "upside-down"],
    ["camera rolled by 12 mrad", { both: path({ cameraRoll: 0.012 }) }, "camera-rolled"],
    ["level slit tilted by 12 mrad", { both: path({ levelSlitTilt: 0.012 }) }, "level-slit-tilted"],
    [
      "level slit open too far",
      { both: path({ levelSlit: 1.7 * nominal.path.levelSlit }) },
      "level-slit-wide",
    ],
    ["out of focus", { both: path({ defocus: 14e-6 }) }, "out-of-focus"],
    ["exposed too long", { both: camera({ exposure: 1.7 * nominal.camera.exposure }) }, "overexposed"],
    ["stray light", { both: path({ stray: 0.05 }) }, "stray-light"],
    ["a fogged window", { dim: 0.7 }, "window-fogged"],
  ];
  it.each(cases)(
    "%s",
    (_name, bench, expected) => {
      const { causes } = said(bench);
      expect(causes[0].cause).toBe(expected);
      expect(causes.reduce((sum, c) => sum + c.weight, 0)).toBeCloseTo(1, 9);
      for (const c of causes) {
        expect(CAUSE_CODES).toContain(c.cause);
        expect(c.remedy.length).toBeGreaterThan(10);
        expect(c.evidence.length).toBeGreaterThan(5);
      }
    },
    180_000,
  );

  it("a cold tube is named without a fit", () => {
    const seeded = nominal.camera;
    const frame = pictureStage(nominal, coldCurve(curveStage(nominal, vapourStage(nominal)))).frame;
    expect(frame.columns).toBe(seeded.columns);
    expect(diagnose({ hot: frame, setup: nominal }).causes).toHaveLength(1);
    expect(diagnose({ hot: frame, setup: nominal }).causes[0].cause).toBe("tube-cold");
  });

  it("every code has its words, and groups name known codes", () => {
    for (const code of CAUSE_CODES) {
      expect(CAUSES[code].title.length).toBeGreaterThan(3);
      for (const member of CAUSES[code].group?.members ?? []) expect(CAUSE_CODES).toContain(member);
    }
  });
});
