// @vitest-environment node
import { expect, it } from "vitest";
import heated from "../../../examples/heater-sodium.json" with { type: "json" };
import { parseSetup } from "../../setup/index.ts";
import { wallReadings } from "../../vessel/index.ts";
import { foresee } from "./foresee.ts";
import { shellAt } from "./warm.ts";

const setup = parseSetup(heated);

it("begins at the room's temperature and ends at the balance of heat", () => {
  if (setup.shell === undefined) throw new Error("the example has no heater");
  expect(wallReadings(shellAt(setup.shell, 0)).bottom).toBeCloseTo(setup.shell.room, 6);
  const late = wallReadings(shellAt(setup.shell, 1e4)).bottom;
  expect(Math.abs(late - setup.vessel.wall.bottom)).toBeLessThan(1);
});

it("bends less light at an early minute, on a scale of wavelengths that never runs backwards", async () => {
  const small = { ...heated, camera: { ...heated.camera, pixel: "40 um", columns: 120, rows: 80 } };
  const at = async (minute: number | null) => {
    const { sight } = await foresee({
      task: "foresee",
      setup: small,
      show: "hot",
      precision: "exact",
      red: false,
      colours: "eye",
      tints: true,
      minute,
      wanted: "all",
    });
    if (sight === undefined) throw new Error("everything was wanted");
    return sight;
  };
  const [early, steady] = [await at(6), await at(null)];
  expect(Math.abs(early.columnGradient)).toBeLessThan(0.5 * Math.abs(steady.columnGradient));
  for (let i = 1; i < steady.curve.column.length; i++)
    expect(steady.curve.column[i]).toBeGreaterThan(steady.curve.column[i - 1] ?? Number.NEGATIVE_INFINITY);
  const sum = steady.dark?.reduce((all, { share }) => all + share, 0) ?? Number.NaN;
  expect(sum).toBeCloseTo(1, 6);
});
