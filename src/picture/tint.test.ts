import { expect, it } from "vitest";
import { type PathInput, spectralMap } from "../path/index.ts";
import { FATE_TINTS, FATES } from "./fates.ts";
import type { ColumnShares } from "./ledger.ts";
import { ledgerStrip, tintPicture } from "./tint.ts";
import { viewImage } from "./view.ts";
import { createWorkspace } from "./workspace.ts";

const COLUMNS = 3;
const ROWS = 20;
/** First column dark, second recorded whole, third a quarter recorded under a half bent out of the lens under a quarter absorbed. */
const shares: ColumnShares = {
  columns: COLUMNS,
  lit: Uint8Array.of(0, 1, 1),
  upTo: Float64Array.from([
    ...FATES.map(() => 0),
    ...FATES.map(() => 1),
    ...FATES.map((fate, f) =>
      fate === "recorded"
        ? 0.25
        : f > FATES.indexOf("lens")
          ? 0.25
          : fate === "absorbed"
            ? 1
            : fate === "lens"
              ? 0.75
              : 0.75,
    ),
  ]),
};
const pixel = (rgba: Uint8ClampedArray, c: number, r: number): number[] => [
  ...rgba.subarray((r * COLUMNS + c) * 4, (r * COLUMNS + c) * 4 + 4),
];

it("stacks tints from the bottom of each column: recorded light, bent out, absorbed", () => {
  const strip = ledgerStrip(shares, ROWS);
  const third = Array.from({ length: ROWS }, (_, r) => pixel(strip, 2, r).slice(0, 3));
  expect(third.slice(15)).toEqual(Array.from({ length: 5 }, () => [...FATE_TINTS.recorded]));
  expect(third.slice(5, 15)).toEqual(Array.from({ length: 10 }, () => [...FATE_TINTS.lens]));
  expect(third.slice(0, 5)).toEqual(Array.from({ length: 5 }, () => [...FATE_TINTS.absorbed]));
  expect(pixel(strip, 0, 10)).toEqual([0, 0, 0, 255]);
  expect(pixel(strip, 1, 0)).toEqual([...FATE_TINTS.recorded, 255]);
});

/** A picture of one colour. */
function plain(colour: readonly number[]): Uint8ClampedArray {
  return Uint8ClampedArray.from({ length: COLUMNS * ROWS * 4 }, (_, i) => [...colour, 255][i % 4]);
}

it("lays tints over light as two lamps on one screen, and leaves columns alone of which nothing is known", () => {
  for (const colour of [
    [0, 0, 0],
    [200, 100, 7],
  ]) {
    const picture = plain(colour);
    tintPicture(picture, shares, false);
    const lens = FATE_TINTS.lens.map(
      (tint, part) => 255 * (1 - (1 - colour[part] / 255) * (1 - (0.45 * tint) / 255)),
    );
    pixel(picture, 2, 10).forEach((value, part) => {
      expect(Math.abs(value - [...lens, 255][part])).toBeLessThanOrEqual(1);
    });
    expect(pixel(picture, 0, 10)).toEqual([...colour, 255]);
  }
});

it("keeps a grey picture grey", () => {
  const picture = plain([90, 90, 90]);
  tintPicture(picture, shares, true);
  const [red, green, blue] = pixel(picture, 2, 10);
  expect([green, blue]).toEqual([red, red]);
  expect(red).toBeGreaterThan(120);
});

it("gives the same bytes with the kernel and without", () => {
  const columns = 7;
  const rows = 40;
  const sensor = { columns, rows, pixel: 1e-5 };
  const wide: ColumnShares = {
    columns,
    lit: Uint8Array.from({ length: columns }, (_, c) => (c === 4 ? 0 : 1)),
    upTo: Float64Array.from(
      { length: columns * FATES.length },
      (_, i) => 1 - (i % FATES.length) / (FATES.length + Math.floor(i / FATES.length)),
    ),
  };
  const light = Float32Array.from({ length: columns * rows }, (_, i) => (i % 11) / 9);
  const map = spectralMap({
    centreWavelength: 550e-9,
    disperser: { kind: "linear", wavelengthPerLength: 1e-3 },
  } as PathInput);
  const [fast, slow] = [true, false].map((kernel) => {
    const workspace = createWorkspace(kernel);
    expect(workspace.kernel !== undefined).toBe(kernel);
    const picture = viewImage(light, map, sensor, { workspace });
    const plain = picture.slice();
    tintPicture(picture, wide, false, workspace);
    expect(picture).not.toEqual(plain);
    return picture.slice();
  });
  expect(fast).toEqual(slow);
});
