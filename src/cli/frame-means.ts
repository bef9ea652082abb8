/** Several files of one kind of frame made into one. */
import { averageFrames, type Frame } from "../picture/index.ts";
import { Refusal } from "../quantity/index.ts";
import { readFrame } from "./files.ts";

/** @param gamma of frames that do not say so themselves */
export type MeansOfFiles = (paths: readonly string[], gamma: number) => Promise<Frame>;

/** Each list of files is averaged once, however many pictures are read with it; a single file stays as it is stored. */
export function meansOfFiles(): MeansOfFiles {
  const kept = new Map<string, Promise<Frame>>();
  return (paths, gamma) => {
    const key = JSON.stringify([paths, gamma]);
    const known = kept.get(key) ?? meanOfFiles(paths, gamma);
    kept.set(key, known);
    return known;
  };
}

/** @throws Refusal that names the file which is not of the first one's kind */
async function meanOfFiles(paths: readonly string[], gamma: number): Promise<Frame> {
  const frames = await Promise.all(paths.map(readFrame));
  const names = Object.fromEntries(paths.map((path, k) => [`frame ${k + 1}`, path]));
  return namingFiles(names, () => averageFrames(frames, gamma).frame);
}

/** A frame that is refused is named by its file, not by its part in the reading. */
export function namingFiles<T>(files: Readonly<Record<string, string | undefined>>, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    throw new Refusal({ ...error.record, field: files[error.record.field] ?? error.record.field });
  }
}
