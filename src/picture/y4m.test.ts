import { describe, expect, it } from "vitest";
import type { Frame } from "./api.ts";
import { openY4m, type Slice } from "./y4m.ts";

const text = (words: string): number[] => Array.from(new TextEncoder().encode(words));
const slicer =
  (bytes: readonly number[]): Slice =>
  (from, to) =>
    Promise.resolve(Uint8Array.from(bytes.slice(from, to)));

async function framesOf(bytes: readonly number[]): Promise<Frame[]> {
  const frames: Frame[] = [];
  for await (const frame of (await openY4m(slicer(bytes), "tube.y4m")).frames()) frames.push(frame);
  return frames;
}

describe("an uncompressed film", () => {
  it.each([
    ["420jpeg", 2 * 2 * 1],
    ["422", 2 * 2 * 2],
    ["444", 2 * 6],
    ["mono", 0],
  ])("gives the brightness of each frame, colours passed over: %s", async (kind, colours) => {
    const film = [
      ...text(`YUV4MPEG2 W3 H2 F25:2 Ip A1:1 C${kind}\n`),
      ...text("FRAME\n"),
      ...[16, 235, 0, 255, 126, 17],
      ...Array<number>(colours).fill(90),
      ...text("FRAME Xanything\n"),
      ...[16, 16, 16, 16, 16, 20],
      ...Array<number>(colours).fill(90),
    ];
    const opened = await openY4m(slicer(film), "tube.y4m");
    expect(opened).toMatchObject({ columns: 3, rows: 2, perSecond: 12.5 });
    const frames = await framesOf(film);
    // (126 − 16)·255/219 = 128.08, (17 − 16)·255/219 = 1.16, (20 − 16)·255/219 = 4.66
    expect(frames.map(({ samples }) => [...samples])).toEqual([
      [0, 255, 0, 255, 128, 1],
      [0, 0, 0, 0, 0, 5],
    ]);
  });

  it("leaves the brightness of the full range as it is", async () => {
    const film = [...text("YUV4MPEG2 W2 H1 F1:1 Cmono XCOLORRANGE=FULL\n"), ...text("FRAME\n"), 7, 200];
    expect([...((await framesOf(film))[0]?.samples ?? [])]).toEqual([7, 200]);
  });

  it("is refused where it is no such film, deeper than 8 bits or cut short", async () => {
    await expect(framesOf(text("RIFF1234"))).rejects.toThrow(/tube\.y4m: expected an uncompressed film/);
    await expect(framesOf(text("YUV4MPEG2 W2 H2 F1:1 C420p10\n"))).rejects.toThrow(/8 bits/);
    await expect(framesOf(text("YUV4MPEG2 W0 H2 F1:1\n"))).rejects.toThrow(/pixels/);
    const short = [...text("YUV4MPEG2 W2 H2 F1:1 Cmono\n"), ...text("FRAME\n"), 7];
    await expect(framesOf(short)).rejects.toThrow(/cut short/);
  });
});
