/** Difficult pictures with their truth: what is common to those drawn by our forecast and by the independent renderer. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import sharp from "sharp";
import type { Frame } from "../../../src/picture/index.ts";
import type { Setup } from "../../../src/setup/index.ts";

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
] as const;
export type Trouble = (typeof TROUBLES)[number];

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
  readonly name: string;
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

/** Seeded draws: the same seed gives the same campaign. */
export class Dice {
  private readonly generator;

  constructor(seed: number) {
    this.generator = xoroshiro128plus(seed);
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

/** The same picture after a camera's JPEG. */
export async function throughJpeg(frame: Frame, quality: number): Promise<Frame> {
  const { columns, rows } = frame;
  const coded = await sharp(frame.samples as Uint8Array, {
    raw: { width: columns, height: rows, channels: 1 },
  })
    .jpeg({ quality })
    .toBuffer();
  const { data } = await sharp(coded).toColourspace("b-w").raw().toBuffer({ resolveWithObject: true });
  return { columns, rows, channels: 1, depth: 8, samples: new Uint8Array(data) };
}

export function mirrored(frame: Frame): Frame {
  const samples = frame.samples.slice();
  for (let r = 0; r < frame.rows; r++) samples.subarray(r * frame.columns, (r + 1) * frame.columns).reverse();
  return { ...frame, samples };
}
