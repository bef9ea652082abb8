/**
 * Uncompressed films (YUV4MPEG2, files ending in .y4m): a line of text, then frame after frame of 8-bit brightness followed by colours, which
 * are left out here. Every sample is as the camera's program wrote it, so that two programs must read the same. Format as ffmpeg and mjpegtools
 * write it, from memory.
 */
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";
import { LARGEST_PIXELS } from "./png.ts";

export interface Y4mFilm {
  readonly columns: number;
  readonly rows: number;
  /** frames a second; null where the file does not say */
  readonly perSecond: number | null;
  /** grey frames from the first on, 0 … 255 */
  frames(): AsyncGenerator<Frame, void, undefined>;
}

/** Part of a file: the bytes from one place up to, not with, another; fewer where the file ends before. */
export type Slice = (from: number, to: number) => Promise<Uint8Array>;

/** Longest line of text that is looked for. */
const LINE = 400;

/** @throws Refusal where the file is no such film, or of more than 8 bits; while reading, where its last frame is cut short */
export async function openY4m(slice: Slice, name: string): Promise<Y4mFilm> {
  const head = await lineAt(slice, 0);
  const words = (head ?? "").split(" ");
  if (head === undefined || words[0] !== "YUV4MPEG2")
    throw refused(name, "a file that does not begin as one", "an uncompressed film (YUV4MPEG2)");
  const word = (letter: string): string | undefined =>
    words.find((each, i) => i > 0 && each.startsWith(letter))?.slice(1);
  const [columns, rows] = [Number(word("W")), Number(word("H"))];
  if (!(columns > 0 && rows > 0 && columns * rows <= LARGEST_PIXELS))
    throw refused(name, `a film of ${columns} × ${rows} pixels`, "a film of at most 100 million pixels");
  const kind = word("C") ?? "420";
  const colours = colourBytes(kind, columns, rows);
  if (colours === undefined)
    throw refused(name, `pictures stored as ${kind}`, "8 bits, stored as 420, 422, 444 or mono");
  const spread = spreadTable(words.includes("XCOLORRANGE=FULL"));
  const [above, below] = (word("F") ?? "").split(":").map(Number);
  return {
    columns,
    rows,
    perSecond: above > 0 && below > 0 ? above / below : null,
    async *frames() {
      let at = head.length + 1;
      for (;;) {
        const line = await lineAt(slice, at);
        if (line === undefined) return;
        if (!line.startsWith("FRAME")) throw refused(name, "bytes between two frames", "a whole film");
        at += line.length + 1;
        const stored = await slice(at, at + columns * rows);
        if (stored.length < columns * rows) throw refused(name, "a last frame cut short", "a whole film");
        const samples = new Uint8Array(stored.length);
        for (let i = 0; i < samples.length; i++) samples[i] = spread[stored[i]];
        yield { columns, rows, channels: 1, depth: 8, samples };
        at += columns * rows + colours;
      }
    },
  };
}

/** Bytes of colours after the brightness of each frame; undefined for a kind that is not read. */
function colourBytes(kind: string, columns: number, rows: number): number | undefined {
  const [half, low] = [Math.ceil(columns / 2), Math.ceil(rows / 2)];
  if (kind === "mono") return 0;
  if (/^420(?:jpeg|mpeg2|paldv)?$/.test(kind)) return 2 * half * low;
  if (kind === "422") return 2 * half * rows;
  return kind === "444" ? 2 * columns * rows : undefined;
}

/** Text up to the next line feed; undefined at the end of the file. */
async function lineAt(slice: Slice, at: number): Promise<string | undefined> {
  const bytes = await slice(at, at + LINE);
  const end = bytes.indexOf(10);
  return end < 0 ? undefined : String.fromCharCode(...bytes.subarray(0, end));
}

function refused(field: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "film-unreadable", field, received, expected });
}

/**
 * Film brightness → grey of 0 … 255: stored from 16 to 235 unless the film says that it uses the full range (ITU-R BT.601).
 */
export function spreadTable(full: boolean): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, y) =>
    full ? y : Math.round(Math.min(255, Math.max(0, ((y - 16) * 255) / 219))),
  );
}
