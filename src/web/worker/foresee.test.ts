// @vitest-environment node
import { expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { lightOfFrame, viewImage } from "../../picture/index.ts";
import { forecast, parseSetup } from "../../setup/index.ts";
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

it("draws a coarse picture on the canvas it was given and leaves out what was not wanted", async () => {
  const drawn: Uint8ClampedArray[] = [];
  const screen = {
    show: (columns: number, rows: number, rgba: Uint8ClampedArray) => {
      expect([columns, rows, rgba.length]).toEqual([160, 100, 64_000]);
      drawn.push(rgba.slice());
    },
  };
  const onCanvas = await foresee(request("coarse", "picture"), { screen });
  expect(onCanvas).toEqual({ picture: { columns: 160, rows: 100, rgba: undefined }, sight: undefined });
  const sent = await foresee(request("coarse", "all"));
  expect(sent.picture.rgba).toEqual(drawn[0]);
  expect(sent.sight?.lines).toHaveLength(2);
  expect(drawn[0].some((part, i) => i % 4 === 2 && part > 200)).toBe(true);
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
