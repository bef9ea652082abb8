/** The program's numbers as plain JSON, made from what a notebook holds: once when they are kept, again when verified. */

import { check, runSheet } from "../plan/index.ts";
import type { Frame } from "../picture/index.ts";
import { lampLinesFromNames, type Reading, type ReadingInput, readPicture } from "../reading/index.ts";
import { storedValues } from "../reference/index.ts";
import {
  fingerprint,
  forecast,
  type JsonObject,
  parseSetup,
  PROGRAM_VERSION,
  type Setup,
} from "../setup/index.ts";
import { sha256Of } from "./blobs.ts";
import type { NewReading, NumberProvenance } from "./contract.ts";

/** Turns the bytes of a picture into samples; which formats it knows is the door's affair. */
export type Decode = (bytes: Uint8Array, name: string) => Promise<Frame> | Frame;

export type ReadOptions = NonNullable<NewReading["options"]>;

export interface ReadFrames {
  readonly hot: Frame;
  readonly cold?: Frame;
  readonly lamp?: Frame;
  readonly dark?: Frame;
}

let dataName: string | undefined;

/** Names the published data the program reckons with: first 16 hex digits of a SHA-256 over every stored figure. */
export function dataFingerprint(): string {
  dataName ??= sha256Of(
    JSON.stringify(
      storedValues().map(({ path, value, unit, uncertainty }) => [path, value, unit, uncertainty]),
    ),
  ).slice(0, 16);
  return dataName;
}

export function provenanceOf(setup: Setup, pictures: NumberProvenance["pictures"] = {}): NumberProvenance {
  return {
    program: PROGRAM_VERSION,
    data: dataFingerprint(),
    setup: fingerprint(setup),
    seed: setup.camera.seed,
    pictures,
  };
}

/** The whole reading, from a setup file and decoded frames. */
export function readAgain(
  document: JsonObject,
  frames: ReadFrames,
  lampLines: string,
  options: ReadOptions,
): Reading {
  const input: ReadingInput = {
    ...frames,
    ...(lampLines === "" ? {} : { lampLines: lampLinesFromNames(lampLines, "lampLines") }),
    setup: parseSetup(document),
    options,
  };
  return readPicture(input);
}

/** What a notebook keeps of a reading: all but its per-pixel parts. */
export function readingResult(reading: Reading): JsonObject {
  const { curve: _curve, mask: _mask, residual: _residual, trace, ...rest } = reading;
  return plain({ ...rest, tracePoints: trace.length });
}

/** What a notebook keeps of a forecast; `samples` names the predicted picture's samples to the last bit. */
export function forecastResult(document: JsonObject, cold: boolean): JsonObject {
  const result = forecast(parseSetup(document), { cold });
  const { curve, vapour, frame } = result;
  const { columnDensity, columnGradient, gasColumnGradient } = vapour.middle;
  const { samples } = frame;
  return plain({
    lines: curve.lines.map(({ line, wavelength, halfGap, edgeDeflection }) => ({
      line,
      wavelength,
      halfGap,
      edgeDeflection,
    })),
    zeroBetweenLines: curve.zeroBetweenLines,
    columnDensity: cold ? 0 : columnDensity,
    columnGradient: cold ? 0 : columnGradient,
    gasColumnGradient: cold ? 0 : gasColumnGradient,
    columns: frame.columns,
    rows: frame.rows,
    depth: frame.depth,
    samples: sha256Of(littleEndian(samples)),
    findings: cold ? [] : check(result),
  });
}

function littleEndian(samples: Uint8Array | Uint16Array): Uint8Array {
  if (samples instanceof Uint8Array) return samples;
  const bytes = new Uint8Array(2 * samples.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < samples.length; i++) view.setUint16(2 * i, samples[i], true);
  return bytes;
}

/** What a notebook keeps of a plan: the run sheet without its drawings. */
export function planResult(document: JsonObject): JsonObject {
  const sheet = runSheet(forecast(parseSetup(document)));
  return plain({
    ...sheet,
    alignment: sheet.alignment.map(({ picture: _picture, ...step }) => step),
    heating: sheet.heating.map(({ picture: _picture, ...row }) => row),
  });
}

/** Typed arrays as lists, nothing undefined; a number that is not finite is the program's fault. */
function plain(value: object): JsonObject {
  const text = JSON.stringify(value, (key, item: unknown) => {
    if (ArrayBuffer.isView(item)) return Array.from(item as unknown as ArrayLike<number>);
    if (typeof item === "number" && !Number.isFinite(item))
      throw new Error(`the result's ${key} is not a finite number`);
    return item;
  });
  return JSON.parse(text) as JsonObject;
}
