/**
 * Light, pictures with several seeds and PNG files of four examples, as SHA-256 of their bytes: for the tests in Node and in a browser, and, bundled into one file, for any engine that runs JavaScript:
 *
 *   npx esbuild test/chain/same-bytes-job.ts --bundle --format=iife --outfile=same-bytes.js
 *
 * (with a line that prints them).
 */
import blue from "../../examples/blue-twins.json" with { type: "json" };
import heater from "../../examples/heater-sodium.json" with { type: "json" };
import grating from "../../examples/potassium-grating.json" with { type: "json" };
import sodium from "../../examples/sodium.json" with { type: "json" };
import { createWorkspace, encodePng } from "../../src/picture/index.ts";
import {
  curveStage,
  frameOf,
  lightOf,
  overrideSetup,
  parseSetup,
  vapourStage,
} from "../../src/setup/index.ts";
import type { JsonObject } from "../../src/setup/json.ts";
import { COARSE_GRID } from "../../src/vessel/index.ts";
import { sha256 } from "./sha256.ts";

const SEEDS = [1, 2, 20261125];
const SETTINGS = ["camera.columns=320", "camera.rows=200"];
/** Colours, leaks, converter, gamma and errors of setting switched on. */
const MORE = [
  "camera.filter=bayer",
  "camera.hotPixels=0.01",
  "camera.converterBits=12",
  "camera.gamma=2.2",
  "camera.bitDepth=8",
  "path.cameraRoll=0.5 deg",
  "path.losses=each-colour",
];

/** What asks for logarithms, powers and angles besides. */
const LENSES = ["path.lateralColour=by-lenses", "path.lampImage=true", "path.tubeRoll=5 deg"];

interface Case {
  readonly name: string;
  readonly document: JsonObject;
  readonly more: readonly string[];
}
const CASES: readonly Case[] = [
  { name: "sodium", document: sodium, more: [] },
  { name: "blue-twins", document: blue, more: MORE },
  { name: "heater-sodium", document: heater, more: LENSES },
  { name: "potassium-grating", document: grating, more: [] },
];

/** @param kernel false keeps to the plain loops, without WebAssembly's vectors */
export function hashes(kernel: boolean): string[] {
  return CASES.flatMap(({ name, document, more }) => {
    const setup = parseSetup(overrideSetup(document, [...SETTINGS, ...more]));
    const curve = curveStage(setup, vapourStage(setup, { grid: COARSE_GRID }));
    const light = lightOf(curve, setup.camera, { workspace: createWorkspace(kernel) });
    const frames = SEEDS.map((seed) => frameOf(light, setup.camera, curve, seed));
    return [
      `${name} light ${sha256(bytesOf(light))}`,
      ...frames.map((frame, k) => `${name} ${SEEDS[k]} ${sha256(bytesOf(frame.samples))}`),
      `${name} png ${sha256(encodePng(frames[0]))}`,
    ];
  });
}

function bytesOf(array: ArrayBufferView): Uint8Array {
  return new Uint8Array(array.buffer, array.byteOffset, array.byteLength);
}
