import { describe, expect, it } from "vitest";
import sharp, { type Sharp } from "sharp";
import type { Frame } from "./api.ts";
import { averageFrames, flattened } from "./combine.ts";
import { decodePicture } from "./decode.ts";
import { encodePng } from "./png.ts";
import { cropped, turned } from "./turn.ts";

const columns = 23;
const rows = 17;
const ramp = (channels: 1 | 3, depth: 8 | 16): Frame => {
  const count = columns * rows * channels;
  const samples = depth === 8 ? new Uint8Array(count) : new Uint16Array(count);
  for (let i = 0; i < count; i++) samples[i] = (i * 40503 + 77) % (depth === 8 ? 256 : 65536);
  return { columns, rows, channels, depth, samples };
};

const read = (bytes: Uint8Array, name = "x"): Promise<Frame> => decodePicture(bytes, name);

const raw = (frame: Frame): Sharp =>
  sharp(frame.samples, {
    raw: { width: frame.columns, height: frame.rows, channels: frame.channels },
  });

/** A FITS file written by hand: cards of 80 characters, blocks of 2880 bytes. */
function fits(cards: readonly string[], data: Uint8Array): Uint8Array {
  const text = [...cards, "END"].map((c) => c.padEnd(80)).join("");
  const header = text.padEnd(Math.ceil(text.length / 2880) * 2880);
  const out = new Uint8Array(header.length + data.length);
  for (let i = 0; i < header.length; i++) out[i] = header.charCodeAt(i);
  out.set(data, header.length);
  return out;
}
const card = (key: string, value: string | number): string =>
  `${key.padEnd(8)}= ${String(value).padStart(20)}`;
const size2 = (bits: number): string[] => [
  card("SIMPLE", "T"),
  card("BITPIX", bits),
  card("NAXIS", 2),
  card("NAXIS1", 3),
  card("NAXIS2", 2),
];

describe("pictures in", () => {
  it.each([
    ["grey, 8 bits", 1, 8],
    ["grey, 16 bits", 1, 16],
    ["colour, 8 bits", 3, 8],
    ["colour, 16 bits", 3, 16],
  ] as const)("PNG and TIFF keep every sample: %s", async (_name, channels, depth) => {
    const frame = ramp(channels, depth);
    const png = await read(encodePng(frame));
    expect(png.samples).toEqual(frame.samples);
    // The TIFF comes from another program's writer; sharp takes 16-bit samples as such only from a typed array.
    for (const compression of ["none", "lzw", "deflate"] as const) {
      const space = depth === 16 ? (channels === 1 ? "grey16" : "rgb16") : channels === 1 ? "b-w" : "srgb";
      const bytes = await raw(frame).toColourspace(space).tiff({ compression, predictor: "none" }).toBuffer();
      const tiff = await read(Uint8Array.from(bytes));
      expect(tiff).toMatchObject({ columns, rows, channels, depth });
      expect(tiff.samples).toEqual(frame.samples);
    }
  });

  it("JPEG: samples near what went in, exposure and the way the camera was held from its Exif part", async () => {
    const soft = ramp(1, 8).samples.map((_, i) => 40 + (i % columns) * 7 + Math.floor(i / columns) * 2);
    const frame: Frame = { columns, rows, channels: 1, depth: 8, samples: Uint8Array.from(soft) };
    const bytes = await raw(frame)
      .jpeg({ quality: 98 })
      .withExif({ IFD2: { ExposureTime: "1/40", ISOSpeedRatings: "200", FNumber: "28/10" } })
      .withMetadata({ orientation: 6 })
      .toBuffer();
    const got = await read(Uint8Array.from(bytes));
    expect(got.exposure).toBeCloseTo(1 / 40, 6);
    expect([got.sensitivity, got.aperture]).toEqual([200, 2.8]);
    // Orientation 6: a quarter turn with the clock puts it upright.
    expect([got.columns, got.rows]).toEqual([rows, columns]);
    const upright = turned(frame, "right");
    for (let i = 0; i < upright.samples.length; i++)
      expect(Math.abs(got.samples[i * got.channels] - upright.samples[i])).toBeLessThan(6);
  });

  it.each([
    [8, [10, 20, 30, 40, 50, 60], (v: DataView, i: number, x: number) => v.setUint8(i, x), 1],
    [
      16,
      [-5, 20, 30, 32767, 50, 60],
      (v: DataView, i: number, x: number) => v.setInt16(2 * i, x),
      65535 / 32767,
    ],
    [32, [10, 20, 30, 40, 50, 65535], (v: DataView, i: number, x: number) => v.setInt32(4 * i, x), 1],
    [
      64,
      [10, 20, 30, 40, 50, 65535],
      (v: DataView, i: number, x: number) => v.setBigInt64(8 * i, BigInt(x)),
      1,
    ],
    [
      -32,
      [0, 0.25, 0.5, 0.75, 1, Number.NaN],
      (v: DataView, i: number, x: number) => v.setFloat32(4 * i, x),
      65535,
    ],
    [-64, [0, 0.25, 0.5, 0.75, 1, -1], (v: DataView, i: number, x: number) => v.setFloat64(8 * i, x), 65535],
  ] as const)("FITS with BITPIX %i, bottom row first", async (bits, values, put, times) => {
    const data = new Uint8Array((values.length * Math.abs(bits)) / 8);
    values.forEach((x, i) => {
      put(new DataView(data.buffer), i, x);
    });
    const frame = await read(fits([...size2(bits), card("EXPTIME", "2.5")], data));
    const want = [...values.slice(3), ...values.slice(0, 3)].map((v) => (v > 0 ? Math.round(v * times) : 0));
    expect(Array.from(frame.samples)).toEqual(want);
    expect(frame).toMatchObject({ columns: 3, rows: 2, channels: 1, exposure: 2.5, gamma: 1 });
    const down = await read(fits([...size2(bits), card("ROWORDER", "'TOP-DOWN'")], data));
    expect(Array.from(down.samples)).toEqual([...want.slice(3), ...want.slice(0, 3)]);
  });

  it("FITS with BZERO 32768 holds unsigned samples", async () => {
    const data = new Uint8Array(12);
    [-32768, 0, 32767, -32767, 1, 2].forEach((x, i) => {
      new DataView(data.buffer).setInt16(2 * i, x);
    });
    const cards = [...size2(16), card("BZERO", 32768), card("BSCALE", 1), card("ROWORDER", "'TOP-DOWN'")];
    expect(Array.from((await read(fits(cards, data))).samples)).toEqual([0, 32768, 65535, 1, 32769, 32770]);
  });

  it("what is no picture, cut short or far too large is refused in one sentence, without unpacking", async () => {
    const png = encodePng(ramp(1, 16));
    const tiff = Uint8Array.from(await raw(ramp(1, 8)).tiff({ compression: "lzw" }).toBuffer());
    const photo = Uint8Array.from(await raw(ramp(3, 8)).jpeg().toBuffer());
    const bombPng = png.slice();
    new DataView(bombPng.buffer).setUint32(16, 20_000);
    new DataView(bombPng.buffer).setUint32(20, 20_000);
    const bombFits = fits(
      [...size2(16).slice(0, 3), card("NAXIS1", 20000), card("NAXIS2", 20000)],
      new Uint8Array(4),
    );
    const bombJpeg = photo.slice();
    const at = bombJpeg.findIndex((b, i) => b === 0xff && bombJpeg[i + 1] === 0xc0);
    new DataView(bombJpeg.buffer).setUint16(at + 5, 20_000);
    new DataView(bombJpeg.buffer).setUint16(at + 7, 20_000);
    const bombTiff = tiff.slice();
    const entries = new DataView(bombTiff.buffer);
    const first = entries.getUint32(4, true);
    for (let k = 0; k < entries.getUint16(first, true); k++) {
      const entry = first + 2 + 12 * k;
      // ImageWidth and ImageLength, held as 32-bit numbers.
      if ([256, 257].includes(entries.getUint16(entry, true))) {
        entries.setUint16(entry + 2, 4, true);
        entries.setUint32(entry + 8, 20_000, true);
      }
    }
    const files: [string, Uint8Array, RegExp][] = [
      ["empty", new Uint8Array(0), /empty file/],
      ["text", new TextEncoder().encode("hello, this is no picture"), /no picture/],
      ["half a PNG", png.slice(0, png.length >> 1), /cut short or damaged/],
      ["half a TIFF", tiff.slice(0, tiff.length >> 1), /cut short/],
      ["half a JPEG", photo.slice(0, photo.length >> 1), /cut short or damaged/],
      ["half a FITS", fits(size2(16), new Uint8Array(4)), /cut short/],
      ["FITS without an end", fits(size2(16), new Uint8Array(12)).slice(0, 240), /without an end/],
      ["400 million pixels, PNG", bombPng, /20000 × 20000 pixels/],
      ["400 million pixels, FITS", bombFits, /20000 × 20000 pixels/],
      ["400 million pixels, JPEG", bombJpeg, /20000 × 20000 pixels/],
      ["400 million pixels, TIFF", bombTiff, /20000 × 20000 pixels/],
    ];
    for (const [name, bytes, words] of files) {
      const said = await read(bytes, name).then(
        () => "was read",
        (error: unknown) => (error instanceof Error ? error.message : ""),
      );
      expect(said).toMatch(words);
      expect(said.startsWith(name)).toBe(true);
      expect(said).not.toContain("\n");
    }
  });
});

describe("frames made into one", () => {
  const flat = (value: number, depth: 8 | 16 = 16): Frame => ({
    columns: 40,
    rows: 30,
    channels: 1,
    depth,
    samples: (depth === 8 ? new Uint8Array(1200) : new Uint16Array(1200)).fill(value),
  });

  it("the mean leaves out what one frame alone shows", () => {
    const frames = [0, 1, 2, 3, 4].map((k) => {
      const frame = flat(20_000);
      // Noise of a few hundred by a fixed pattern, and a bright spot in one frame.
      for (let i = 0; i < 1200; i++) frame.samples[i] += ((i * 7919 + k * 104_729) % 601) - 300;
      return frame;
    });
    frames[2].samples[555] = 65_535;
    const { frame, clipped } = averageFrames(frames, 1);
    expect(frame.samples[555]).toBeGreaterThan(19_600);
    expect(frame.samples[555]).toBeLessThan(20_400);
    expect(clipped).toBeCloseTo(1 / 6000, 6);
  });

  it("is taken in light: with gamma 2 the mean of 0.2² and 0.6² is (0.4472…)²", () => {
    const { frame } = averageFrames([flat(51, 8), flat(153, 8)], 2);
    expect(frame.depth).toBe(16);
    expect(frame.gamma).toBe(2);
    expect(frame.samples[0] / 65535).toBeCloseTo(Math.sqrt((0.2 ** 2 + 0.6 ** 2) / 2), 4);
  });

  it("a flat takes out what dims part of every frame", () => {
    const light = flat(40_000);
    const even = flat(30_000);
    for (const f of [light, even]) for (let i = 600; i < 700; i++) f.samples[i] *= 0.8;
    const whole = flattened(light, even, 1);
    expect(whole.samples[650] / whole.samples[10]).toBeCloseTo(1, 3);
  });

  it("frames of different size are refused", () => {
    const other = { ...flat(1), columns: 30, rows: 40 };
    expect(() => averageFrames([flat(1), other], 1)).toThrow(/30 × 40/);
  });

  it("a part of a frame, and turns that undo each other", () => {
    const frame = ramp(3, 8);
    expect(turned(turned(frame, "left"), "right")).toEqual(frame);
    expect(turned(turned(frame, "mirror"), "flip")).toEqual(turned(frame, "over"));
    const part = cropped(frame, { columns: [3, 8], rows: [2, 4] });
    expect(part.samples[0]).toBe(frame.samples[(2 * columns + 3) * 3]);
    expect(part.samples.length).toBe(5 * 2 * 3);
  });
});
