import { describe, expect, it } from "vitest";
import type { Frame } from "./api.ts";
import { decodePng, encodePng } from "./png.ts";

const grey16: Frame = {
  columns: 7,
  rows: 5,
  channels: 1,
  depth: 16,
  samples: Uint16Array.from({ length: 35 }, (_, i) => (i * 1873) % 65536),
};
const colour8: Frame = {
  columns: 4,
  rows: 3,
  channels: 3,
  depth: 8,
  samples: Uint8Array.from({ length: 36 }, (_, i) => (i * 37) % 256),
};

/** 2 × 2 pixels, palette of 1 bit: written byte by byte after the standard, not by the encoder under test. */
const PALETTE_PNG = Uint8Array.from(
  atob(
    "iVBORw0KGgoAAAANSUhEUgAAAAIAAAACAQMAAABIeJ9nAAAABlBMVEX/AAAAAP9sof2OAAAADElEQVR4nGNwYGgAAAFEAME6ehxWAAAAAElFTkSuQmCC",
  ),
  (c) => c.charCodeAt(0),
);

describe("png", () => {
  it("keeps every sample of 16-bit grey and 8-bit colour", () => {
    expect(decodePng(encodePng(grey16))).toEqual(grey16);
    expect(decodePng(encodePng(colour8))).toEqual(colour8);
  });

  it("writes big-endian samples and the header of the standard", () => {
    const bytes = encodePng(grey16);
    expect([...bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    expect([view.getUint32(16), view.getUint32(20), bytes[24], bytes[25]]).toEqual([7, 5, 16, 0]);
  });

  it("reads a palette as colour", () => {
    const frame = decodePng(PALETTE_PNG);
    expect(frame).toMatchObject({ columns: 2, rows: 2, channels: 3, depth: 8 });
    expect([...frame.samples]).toEqual([255, 0, 0, 0, 0, 255, 0, 0, 255, 255, 0, 0]);
  });

  it("refuses what is no PNG, is cut short, or is announced too large, in one sentence", () => {
    expect(() => decodePng(new Uint8Array([1, 2, 3]), "hot.png")).toThrow(
      /^hot\.png: expected a PNG file, received .*\.$/,
    );
    const bytes = encodePng(grey16);
    for (const length of [20, 40, bytes.length - 20]) {
      expect(() => decodePng(bytes.slice(0, length), "hot.png")).toThrow(/cut short or damaged/);
    }
    const damaged = bytes.slice();
    damaged[45] ^= 0x55;
    expect(() => decodePng(damaged)).toThrow(/cut short or damaged/);
    const bomb = bytes.slice();
    new DataView(bomb.buffer).setUint32(16, 20000);
    new DataView(bomb.buffer).setUint32(20, 20000);
    expect(() => decodePng(bomb)).toThrow(/20000 × 20000/);
  });
});
