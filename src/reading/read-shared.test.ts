/** A warm-up of three pictures, taken sixteen times over with fresh noise: the joint fit against the single ones. */
import { beforeAll, describe, expect, it } from "vitest";
import { benchSetup } from "../../bench/campaign/diagnose/confusion.ts";
import { expose } from "../picture/index.ts";
import { coldCurve, curveStage, pictureStage, type Setup, vapourStage } from "../setup/index.ts";
import { COARSE_GRID } from "../vessel/index.ts";
import { type Reading, readPicture, readShared, type SharedReading } from "./index.ts";

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
    taken.push({ single: inputs.map((input) => readPicture(input)), shared: readShared(inputs) });
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
    const squares = { shared: 0, single: 0 };
    let inside = 0;
    let count = 0;
    for (const name of ["column gradient", "column density"])
      RUN.forEach((_, i) => {
        const readings = {
          shared: taken.map((t) => t.shared.readings[i]),
          single: taken.map((t) => t.single[i]),
        };
        for (const kind of ["shared", "single"] as const) {
          const values = readings[kind].map((reading) => parameter(reading, name));
          const mean = values.reduce((sum, p) => sum + p.value, 0) / REPEATS;
          for (const { value, standardUncertainty } of values) {
            const off = (value - mean) / (standardUncertainty * Math.sqrt(1 - 1 / REPEATS));
            const single = parameter(readings.single[0], name).standardUncertainty;
            squares[kind] += ((value - mean) / single) ** 2;
            if (kind === "single") continue;
            inside += Math.abs(off) < 1 ? 1 : 0;
            count++;
          }
        }
      });
    expect(squares.shared).toBeLessThan(1.1 * squares.single);
    // 96 offs from their own means: 68 % within one uncertainty, give or take three times 4.8 %, and no narrower than with 36.
    expect(inside / count).toBeGreaterThan(0.45);
    expect(inside / count).toBeLessThan(0.91);
  });

  it("claims no more than single fits, and less for what is common", () => {
    const [{ single, shared }] = taken;
    shared.readings.forEach((reading, i) => {
      for (const { name, standardUncertainty } of reading.parameters)
        expect(standardUncertainty).toBeLessThan(1.1 * parameter(single[i], name).standardUncertainty);
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
