// @vitest-environment node
import { expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { createWorkspace, layBeside, lightOfFrame, viewImage } from "../../picture/index.ts";
import { coldCurve, forecast, lightOf, parseSetup } from "../../setup/index.ts";
import { foresee } from "./foresee.ts";
import type { ForeseeRequest } from "./protocol.ts";

const setup = { ...demo, camera: { ...demo.camera, pixel: "19.2 um", columns: 160, rows: 100 } };
const request = (precision: "coarse" | "exact", wanted: "all" | "picture"): ForeseeRequest => ({
  task: "foresee",
  setup,
  show: "hot",
  precision,
  red: false,
  colours: "camera",
  tints: false,
  minute: null,
  wanted,
});

/** Every pixel of the camera, however busy the machine. */
const WHOLE = { largestBin: 1 } as const;

it("draws a coarse picture on the canvas it was given and leaves out what was not wanted", async () => {
  const drawn: Uint8ClampedArray[] = [];
  const screen = {
    show: (columns: number, rows: number, rgba: Uint8ClampedArray) => {
      expect([columns, rows, rgba.length]).toEqual([160, 100, 64_000]);
      drawn.push(rgba.slice());
    },
  };
  const onCanvas = await foresee(request("coarse", "picture"), { screen, ...WHOLE });
  expect(onCanvas).toEqual({ picture: { columns: 160, rows: 100, rgba: undefined }, sight: undefined });
  const sent = await foresee(request("coarse", "all"), WHOLE);
  expect(sent.picture.rgba).toEqual(drawn[0]);
  expect(sent.sight?.lines).toHaveLength(2);
  expect(drawn[0].some((part, i) => i % 4 === 2 && part > 200)).toBe(true);
});

it("tells where the light went while a hand drags: its tints in every picture, its numbers a few times a second", async () => {
  const plain = (await foresee(request("coarse", "all"), WHOLE)).picture.rgba ?? [];
  const { picture, sight } = await foresee({ ...request("coarse", "all"), tints: true }, WHOLE);
  const dark = sight?.dark ?? [];
  expect(dark.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  expect(dark.find(({ fate }) => fate === "absorbed")?.share).toBeGreaterThan(0.01);
  // Every pixel is as bright as it was or brighter, and the lowest row, where recorded light lies, takes its tint.
  const tinted = picture.rgba ?? [];
  expect(tinted.every((value, i) => value >= (plain[i] ?? 256))).toBe(true);
  const lowest = [...tinted.slice(-160 * 4)].filter((_, i) => i % 4 < 3);
  expect(Math.max(...lowest)).toBe(Math.round(0.45 * 240));
  const between = await foresee({ ...request("coarse", "picture"), tints: true }, WHOLE);
  expect(between.sight).toBeUndefined();
  expect(between.picture.rgba).toEqual(tinted);
});

it("keeps a red room red under the tints", async () => {
  const { picture } = await foresee({ ...request("coarse", "all"), tints: true, red: true }, WHOLE);
  const parts = [...(picture.rgba ?? [])];
  expect(parts.some((value, i) => i % 4 === 0 && value > 90)).toBe(true);
  expect(parts.every((value, i) => i % 4 === 0 || i % 4 === 3 || value === 0)).toBe(true);
});

it("gives the core's own forecast when it is exact, canvas or not", async () => {
  const show = (): never => {
    throw new Error("an exact picture goes back with the answer");
  };
  const { picture, sight } = await foresee(request("exact", "all"), { screen: { show } });
  const parsed = parseSetup(setup);
  const { frame, curve } = forecast(parsed);
  const { camera } = parsed;
  const white = camera.fullWell / (camera.rate * camera.exposure);
  const light = lightOfFrame(frame, camera.gamma, camera.blackLevel, white);
  expect(picture.rgba).toEqual(viewImage(light, curve.map, camera, { white }));
  expect(sight?.said?.findings.length).toBeGreaterThan(0);
});

it("shows hot and cold together, the cold one kept while only the vapour changes", async () => {
  const both = async (
    precision: "coarse" | "exact",
    changed: Record<string, Record<string, string>>,
  ): Promise<Uint8ClampedArray> => {
    const parts = Object.entries(changed).map(([part, fields]) => [
      part,
      { ...(setup as unknown as Record<string, object>)[part], ...fields },
    ]);
    const { picture } = await foresee(
      {
        ...request(precision, "picture"),
        setup: { ...setup, ...(Object.fromEntries(parts) as object) },
        show: "both",
      },
      WHOLE,
    );
    if (picture.rgba === undefined) throw new Error("no picture");
    return picture.rgba;
  };
  const most = (a: Uint8ClampedArray, b: Uint8ClampedArray): number =>
    a.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b[i])), 0);
  const first = await both("coarse", {});
  const warmer = await both("coarse", { vessel: { bottom: "290 degC" } });
  const wide = await both("coarse", { path: { plumbSlit: "40 um" } });
  expect(most(warmer, first)).toBeGreaterThan(30);
  // Asked in another order, each picture comes from a cold one of its own: nothing of an older slit stays.
  expect(most(await both("coarse", { path: { plumbSlit: "40 um" } }), wide)).toBeLessThan(2);
  expect(most(await both("coarse", { vessel: { bottom: "290 degC" } }), warmer)).toBeLessThan(2);
  expect(most(wide, first)).toBeGreaterThan(30);
  // The exact one has both as the core lays them down.
  const parsed = parseSetup(setup);
  const { curve } = forecast(parsed);
  const { camera } = parsed;
  const workspace = createWorkspace();
  const hot = lightOf(curve, camera, { workspace, into: "workspace" });
  const light = layBeside(hot, lightOf(coldCurve(curve), camera), 0.4, workspace).slice();
  const white = camera.fullWell / (camera.rate * camera.exposure);
  const seen = viewImage(light, curve.map, camera, { white });
  // Its noise apart: the mean over all parts.
  const exact = await both("exact", {});
  const mean = (picture: Uint8ClampedArray): number =>
    picture.reduce((sum, v) => sum + v, 0) / picture.length;
  expect(Math.abs(mean(exact) / mean(seen) - 1)).toBeLessThan(0.02);
});
