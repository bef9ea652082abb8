import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodeJpeg, OtherJpeg } from "./jpeg.ts";

/** A picture with edges, slopes and noise, so that every coefficient is used. */
function scene(columns: number, rows: number, channels: 1 | 3): Uint8Array {
  const out = new Uint8Array(columns * rows * channels);
  let seed = 12345;
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++)
      for (let k = 0; k < channels; k++) {
        seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
        const curve = Math.abs(r - rows / 2 - 9 * Math.tan(c / 9)) < 3 ? 190 : 20;
        const value = curve / (1 + (k * c) / columns) + k * 9 + (seed >>> 28);
        out[(r * columns + c) * channels + k] = Math.min(value, 255);
      }
  return out;
}

/** What the system's own JPEG library makes of the same file. */
async function byLibrary(bytes: Uint8Array, channels: 1 | 3): Promise<Uint8Array> {
  const library = sharp(bytes, { failOn: "warning" });
  return Uint8Array.from(await (channels === 1 ? library.toColourspace("b-w") : library).raw().toBuffer());
}

const raw = (columns: number, rows: number, channels: 1 | 3) =>
  sharp(scene(columns, rows, channels), { raw: { width: columns, height: rows, channels } });

describe("JPEG", () => {
  it.each([
    [1, 96, 80],
    [1, 61, 47],
    [3, 96, 80],
    [3, 61, 47],
    [3, 5, 3],
    [3, 129, 130],
  ] as const)(
    "of %i components, %i × %i: every sample as the usual library has it",
    async (channels, columns, rows) => {
      for (const quality of [60, 95, 100])
        for (const progressive of [false, true])
          for (const chromaSubsampling of ["4:4:4", "4:2:0"]) {
            const made = raw(columns, rows, channels);
            const grey = channels === 1 ? made.toColourspace("b-w") : made;
            const bytes = await grey.jpeg({ quality, progressive, chromaSubsampling }).toBuffer();
            const frame = decodeJpeg(bytes);
            expect(frame).toMatchObject({ columns, rows, channels, depth: 8 });
            expect(
              Buffer.compare(Uint8Array.from(frame.samples), await byLibrary(bytes, channels)),
              `${quality} ${progressive} ${chromaSubsampling}`,
            ).toBe(0);
          }
    },
  );

  it("with tables and scans arranged for size", async () => {
    const bytes = await raw(120, 90, 3)
      .jpeg({ mozjpeg: true, quality: 80, trellisQuantisation: true, overshootDeringing: true })
      .toBuffer();
    expect(Buffer.compare(Uint8Array.from(decodeJpeg(bytes).samples), await byLibrary(bytes, 3))).toBe(0);
  });

  it("refuses what is cut short or changed", async () => {
    const bytes = Uint8Array.from(await raw(96, 80, 3).jpeg().toBuffer());
    for (const share of [0.2, 0.6, 0.95])
      expect(() => decodeJpeg(bytes.subarray(0, Math.floor(share * bytes.length)))).toThrow();
    const twelve = bytes.slice();
    const size = twelve.findIndex((b, i) => b === 0xff && twelve[i + 1] === 0xc0);
    twelve[size + 4] = 12;
    expect(() => decodeJpeg(twelve)).toThrow(/8 bits/);
    twelve[size + 4] = 8;
    twelve[size + 1] = 0xc9;
    expect(() => decodeJpeg(twelve)).toThrow(OtherJpeg);
  });
});
