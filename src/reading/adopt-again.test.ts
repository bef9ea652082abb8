import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expose } from "../picture/index.ts";
import {
  coldCurve,
  curveStage,
  type JsonObject,
  overrideSetup,
  parseJsonObject,
  parseSetup,
  pictureStage,
  vapourStage,
} from "../setup/index.ts";
import { adoptReading, adoptUntilSettled, readPicture } from "./index.ts";

function example(name: string, ...overrides: string[]): JsonObject {
  const text = readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8");
  return overrideSetup(parseJsonObject(text, name), overrides);
}
const shot = (document: JsonObject) => {
  const setup = parseSetup(document);
  const { middle } = vapourStage(setup);
  const curve = curveStage(setup, vapourStage(setup));
  const hot = pictureStage(setup, curve).frame;
  return { hot, cold: expose(pictureStage(setup, coldCurve(curve)).light, setup.camera, 9), middle };
};

describe("a setup whose walls are 57 K too cold", () => {
  it("is adopted to the vapour that was there, since the picture is read again with the gas as warm as it was", () => {
    const real = example("potassium-grating", "camera.pixel=9 um", "camera.columns=400", "camera.rows=230");
    const { hot, cold, middle } = shot(real);
    const document = overrideSetup(real, ["vessel.bottom=183 degC"]);
    const input = { hot, cold, setup: parseSetup(document), options: { beamHeights: 5 } };
    const first = readPicture(input);
    // What is being mended: read with the gas of the cold walls.
    expect(first.columnDensity.value / middle.columnDensity).toBeLessThan(0.985);
    const { reading, adoption } = adoptUntilSettled(document, input, first);
    expect(Math.abs(reading.columnDensity.value / middle.columnDensity - 1)).toBeLessThan(0.005);
    const adopted = parseSetup(adoption.document);
    expect(Math.abs(adopted.vessel.wall.bottom - (240 + 273.15))).toBeLessThan(0.3);
    const wall = adoption.changes.map(({ path }) => path).filter((path) => path.startsWith("vessel."));
    expect(wall).toEqual(["vessel.bottom"]);
    expect(adoption.changes.find(({ path }) => path === "vessel.bottom")?.from).toBe("183 degC");
    expect(adoption.left[0]).toMatch(
      /^The picture was read again .*, its gas at 4\d\d K instead of 4\d\d K: the column density is 1\.\d % higher/,
    );
    // A setup that agrees with its picture is read once.
    const settled = { ...input, setup: adopted };
    expect(adoptUntilSettled(adoption.document, settled, reading).reading).toBe(reading);
  }, 120_000);
});

describe("a flame", () => {
  const document = example("flame-sodium", "camera.pixel=9.6 um", "camera.columns=320", "camera.rows=200");
  const { hot, cold, middle } = shot(document);
  const reading = readPicture({ hot, cold, setup: parseSetup(document), options: { beamHeights: 5 } });

  it("that is as the setup says changes nothing of its vessel", () => {
    expect(reading.columnGradient.value / middle.columnGradient).toBeCloseTo(1, 2);
    const { changes, left } = adoptReading(document, reading);
    expect(changes.filter(({ path }) => path.startsWith("vessel."))).toEqual([]);
    expect(left).toEqual([]);
  });

  it("with more salt in it gets that density; a gradient of its own is left and said", () => {
    const times = (measured: typeof reading.columnDensity, by: number) => ({
      ...measured,
      value: by * measured.value,
    });
    const salty = {
      ...reading,
      columnDensity: times(reading.columnDensity, 1.3),
      columnGradient: times(reading.columnGradient, 1.3),
    };
    const { document: adopted, changes, left } = adoptReading(document, salty);
    const vessel = changes.filter(({ path }) => path.startsWith("vessel."));
    expect(vessel.map(({ path, from }) => [path, from])).toEqual([["vessel.flameDensity", "2e20 m-3"]]);
    expect(vessel[0]?.to).toMatch(/^2\.\d+e20 m-3$/);
    expect(vessel[0]?.why).toMatch(/^the read column density /);
    const now = vapourStage(parseSetup(adopted)).middle;
    // The file has six digits: half a unit of the last one.
    expect(Math.abs(now.columnDensity / salty.columnDensity.value - 1)).toBeLessThan(2.5e-6);
    // Density and gradient of a flame go together: 30 % more of both is no contradiction.
    expect(Math.abs(now.columnGradient / salty.columnGradient.value - 1)).toBeLessThan(0.01);
    expect(left).toEqual([]);
    const bent = { ...salty, columnGradient: times(reading.columnGradient, 2) };
    expect(adoptReading(document, bent).left).toEqual([
      "The read gradient was left: only the walls of a tube are brought to agree with one.",
    ]);
  });
});
