/** Difficult pictures with their truth: what is common to those drawn by our forecast and by the independent renderer. */
import { spawnSync } from "node:child_process";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import sharp from "sharp";
import { evenMosaic, type Frame, type mosaicFactors } from "../../../src/picture/index.ts";
import type { Setup } from "../../../src/setup/index.ts";

type MosaicFactors = ReturnType<typeof mosaicFactors>;

/** What makes a picture difficult. */
export const TROUBLES = [
  "none",
  "rolled and curved",
  "JPEG, low light",
  "smoke",
  "overexposed",
  "out of focus",
  "mirrored",
  "no cold frame",
  "no lamp",
  "8 bits, linear",
  "colour mosaic",
  "coded film",
] as const;
export type Trouble = (typeof TROUBLES)[number];

/** How finely the same bench is pictured: `small` for tests and long runs, `practice` as large as the practice sets. */
export type Size = "small" | "practice";
/** Pixels of a size for each pixel of the small one, along either side. */
export const FINENESS: Readonly<Record<Size, number>> = { small: 1, practice: 4.4 };

export interface Truth {
  /** m⁻³ and m⁻², middle of the beam */
  readonly gradient: number;
  readonly density: number;
  /** m; null with one line */
  readonly separation: number | null;
  /** f(shorter)/f(longer) */
  readonly ratio: number | null;
  /** rad */
  readonly tilt: number;
}

export interface DrawnCase {
  readonly size: Size;
  readonly seed: number;
  /** its number within a campaign of that seed: the same seed and number give the same picture */
  readonly number: number;
  readonly source: "forecast" | "independent";
  readonly element: string;
  readonly trouble: Trouble;
  readonly setup: Setup;
  readonly truth: Truth;
  readonly hot: Frame;
  readonly cold?: Frame;
  readonly lamp?: Frame;
  readonly lampLines?: readonly number[];
}

/** Seeded draws: one set of dice to a picture, so that each can be drawn alone. */
export class Dice {
  private readonly generator;

  constructor(seed: number, number: number, source: "forecast" | "independent") {
    // Neighbouring seeds begin alike in this generator: they are spread out, and the first throws left out.
    const odd = source === "forecast" ? 0x9e3779b1 : 0x85ebca6b;
    this.generator = xoroshiro128plus(Math.imul(seed * 100_003 + number + 1, odd));
    for (let k = 0; k < 20; k++) this.generator.next();
  }

  unit(): number {
    return ((this.generator.next() >>> 0) + 0.5) / 4294967296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** Evenly over the logarithm. */
  decades(low: number, high: number): number {
    return low * (high / low) ** this.unit();
  }

  sign(): number {
    return this.unit() < 0.5 ? -1 : 1;
  }

  whole(below: number): number {
    return Math.floor(this.unit() * below);
  }

  of<T>(list: readonly T[]): T {
    return list[this.whole(list.length)];
  }
}

/** Two to four lamp lines in view, of no real lamp: vacuum wavelengths, m, and heights. */
export function lampOf(
  dice: Dice,
  shortest: number,
  longest: number,
): { wavelength: number; height: number }[] {
  const count = 3 + dice.whole(3);
  return Array.from({ length: count }, (_, i) => ({
    wavelength: shortest + ((longest - shortest) * (i + dice.between(0.15, 0.85))) / count,
    height: dice.between(0.15, 0.7),
  }));
}

/** What a camera or a program does to the picture after the sensor; the lamp frame is spared. */
export interface Coding {
  readonly jpeg: number | null;
  /** constant rate factor of H.264 */
  readonly film: number | null;
  readonly mosaic: boolean;
}

export function codingFor(trouble: Trouble, dice: Dice): Coding {
  return {
    jpeg: trouble === "JPEG, low light" ? 80 + dice.whole(16) : null,
    film: trouble === "coded film" ? 17 + dice.whole(7) : null,
    mosaic: trouble === "colour mosaic",
  };
}

/** @param factors the hot frame's, so that all colours of all frames are evened alike */
export async function coded(
  frame: Frame,
  { jpeg, film, mosaic }: Coding,
  factors: MosaicFactors | null,
): Promise<Frame> {
  if (mosaic && factors !== null) return evenMosaic(frame, factors);
  if (film !== null) return throughFilm(frame, film);
  return jpeg === null ? frame : throughJpeg(frame, jpeg);
}

/** Sensitivity of red, green and blue pixels. */
export function filtersOf(dice: Dice): [number, number, number] {
  return [dice.between(0.4, 1), 1, dice.between(0.4, 1)];
}

/** The same picture after a camera's JPEG. */
async function throughJpeg(frame: Frame, quality: number): Promise<Frame> {
  const { columns, rows } = frame;
  const packed = await sharp(frame.samples as Uint8Array, {
    raw: { width: columns, height: rows, channels: 1 },
  })
    .jpeg({ quality })
    .toBuffer();
  const { data } = await sharp(packed).toColourspace("b-w").raw().toBuffer({ resolveWithObject: true });
  return { columns, rows, channels: 1, depth: 8, samples: new Uint8Array(data) };
}

/** The same picture as the one frame of a film in H.264, in the narrow range of levels that films have. */
function throughFilm(frame: Frame, rate: number): Frame {
  const { columns, rows } = frame;
  const size = ["-f", "rawvideo", "-pix_fmt", "gray", "-s", `${columns}x${rows}`, "-i", "-"];
  const there = ["-c:v", "libx264", "-crf", String(rate), "-pix_fmt", "yuv420p", "-f", "h264", "-"];
  const film = ffmpeg([...size, ...there], frame.samples as Uint8Array);
  const back = ffmpeg(["-f", "h264", "-i", "-", "-f", "rawvideo", "-pix_fmt", "gray", "-"], film);
  return { columns, rows, channels: 1, depth: 8, samples: new Uint8Array(back) };
}

function ffmpeg(words: readonly string[], input: Uint8Array): Uint8Array {
  const done = spawnSync("ffmpeg", ["-v", "error", ...words], { input, maxBuffer: 1 << 26 });
  if (done.status !== 0) throw new Error(`ffmpeg failed: ${String(done.stderr)}`);
  return done.stdout;
}

export function mirrored(frame: Frame): Frame {
  const samples = frame.samples.slice();
  for (let r = 0; r < frame.rows; r++) samples.subarray(r * frame.columns, (r + 1) * frame.columns).reverse();
  return { ...frame, samples };
}
