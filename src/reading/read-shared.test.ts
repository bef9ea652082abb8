/** A warm-up of three pictures, taken sixteen times over with fresh noise: the joint fit against the single ones. */
import { beforeAll, describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { expose } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, type Setup, vapourStage } from "../setup/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import { buildReading } from "./answers.ts";
import { fitPicture } from "./fit-picture.ts";
import { type Reading, readPicture, readShared, type SharedReading } from "./index.ts";
import { fitTogether } from "./shared-fit.ts";

const setup = benchSetup();
const GRID = { grid: COARSE_GRID };
const warmed = (kelvin: number): Setup => {
  const { wall } = setup.vessel;
  return { ...setup, vessel: { ...setup.vessel, wall: { ...wall, bottom: wall.bottom + kelvin } } };
};
const RUN = [-12, -5, 2];
const REPEATS = 16;
const options = { beamHeights: 3, rough: true };

interface Taken {
  readonly single: readonly Reading[];
  readonly shared: SharedReading;
}
const taken: Taken[] = [];
/** the first time as a person asks for it: each picture alone, and all together */
let asked: Taken | undefined;

beforeAll(() => {
  const curves = RUN.map((kelvin) => curveStage(setup, vapourStage(warmed(kelvin), GRID)));
  const lights = curves.map((curve) => Float32Array.from(pictureStage(setup, curve).light));
  const coldLight = Float32Array.from(pictureStage(setup, coldCurve(curves[0])).light);
  for (let k = 0; k < REPEATS; k++) {
    const cold = expose(coldLight, setup.camera, 100 * k + 50);
    const inputs = lights.map((light, i) => ({
      hot: expose(light, setup.camera, 100 * k + i),
      cold,
      setup,
      options,
    }));
    if (k === 0) asked = { single: inputs.map((input) => readPicture(input)), shared: readShared(inputs) };
    // The joint fit starts from single fits, which need not be made twice.
    const single = inputs.map(fitPicture);
    const { fitted, ...joint } = fitTogether(single);
    taken.push({
      single: single.map(buildReading),
      shared: { ...joint, readings: fitted.map(buildReading) },
    });
  }
}, 900_000);

const COMMON = ["line 1", "line 2", "strength ratio"] as const;
const parameter = (reading: Reading, name: string) => reading.parameters.find((p) => p.name === name)!;
const common = (shared: SharedReading, name: string) => shared.common.find((p) => p.name === name)!;
const scatter = (values: readonly number[]): number => {
  const mean = values.reduce((a, b) => a + b) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
};

describe("pictures of one run read together", () => {
  it("is the joint fit of the single ones", () => {
    expect(asked).toEqual(taken[0]);
  });

  it("one value for what they have in common, in every picture", () => {
    for (const { shared } of taken) {
      expect(shared.converged).toBe(true);
      for (const name of COMMON)
        for (const reading of shared.readings)
          expect(parameter(reading, name).value).toBe(common(shared, name).value);
    }
  });

  it("what is common scatters less than in single fits, and as much as claimed", () => {
    let joint = 0;
    let alone = 0;
    for (const name of COMMON) {
      const claimed = common(taken[0].shared, name).standardUncertainty;
      joint += (scatter(taken.map(({ shared }) => common(shared, name).value)) / claimed) ** 2 / 3;
      RUN.forEach((_, i) => {
        alone += (scatter(taken.map(({ single }) => parameter(single[i], name).value)) / claimed) ** 2 / 9;
      });
    }
    expect(joint).toBeLessThan(0.7 * alone);
    // Three scatters from sixteen values each: the mean of their squares is known to √(2/45) = 0.21.
    expect(joint).toBeGreaterThan(0.3);
    expect(joint).toBeLessThan(2.1);
  });

  it("each picture's own columns scatter no more than in single fits, and as claimed", () => {
    /** of each picture and column: how much more its square off the mean is in the joint fit than alone, in single uncertainties */
    const more: number[] = [];
    let inside = 0;
    for (const name of ["column gradient", "column density"])
      RUN.forEach((_, i) => {
        const offs = (readings: readonly Reading[]): number[] => {
          const values = readings.map((reading) => parameter(reading, name).value);
          const mean = values.reduce((sum, v) => sum + v, 0) / REPEATS;
          return values.map((v) => v - mean);
        };
        const single = offs(taken.map((t) => t.single[i]));
        offs(taken.map((t) => t.shared.readings[i])).forEach((off, k) => {
          const claimed = parameter(taken[k].shared.readings[i], name).standardUncertainty;
          inside += Math.abs(off) < claimed * Math.sqrt(1 - 1 / REPEATS) ? 1 : 0;
          more.push(
            (off ** 2 - single[k] ** 2) / parameter(taken[k].single[i], name).standardUncertainty ** 2,
          );
        });
      });
    const count = more.length;
    const mean = more.reduce((sum, v) => sum + v, 0) / count;
    // Both fits see the same noise, so that their squares are compared pair by pair: within three standard errors of no more.
    expect(mean).toBeLessThan((3 * scatter(more)) / Math.sqrt(count));
    expect(scatter(more) / Math.sqrt(count)).toBeLessThan(0.1);
    // 96 offs from their own means: 68 % within one uncertainty, give or take three times 4.8 %, and no narrower than with 36.
    expect(inside / count).toBeGreaterThan(0.45);
    expect(inside / count).toBeLessThan(0.91);
  });

  it("claims no more than single fits, and less for what is common", () => {
    // A valley of gradient, change and bow bends: what single pictures claim goes up and down by a third with the noise, so that all sixteen are asked.
    const [{ single, shared }] = taken;
    RUN.forEach((_, i) => {
      for (const { name } of shared.readings[i].parameters) {
        const claims = taken.map(
          (t) =>
            parameter(t.shared.readings[i], name).standardUncertainty /
            parameter(t.single[i], name).standardUncertainty,
        );
        expect(claims.reduce((sum, claim) => sum + claim, 0) / REPEATS).toBeLessThan(1.1);
      }
    });
    for (const name of COMMON)
      expect(common(shared, name).standardUncertainty).toBeLessThan(
        0.9 * Math.min(...single.map((reading) => parameter(reading, name).standardUncertainty)),
      );
  });

  it("refuses one picture alone", () => {
    const { frame } = pictureStage(setup, curveStage(setup, vapourStage(setup, GRID)));
    expect(() => readShared([{ hot: frame, setup }])).toThrow(/2 to 40 pictures of one run/);
  });
});
