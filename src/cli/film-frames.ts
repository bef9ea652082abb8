/** Films as pictures: uncompressed ones unpacked here, others by an ffmpeg that the person has installed. */

import { spawn } from "node:child_process";
import { mkdir, open, readdir, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { encodePng, openY4m } from "../picture/index.ts";
import { Refusal } from "../quantity/index.ts";
import { fingerprint } from "../setup/index.ts";

const FILM = /\.(mp4|m4v|mkv|webm|mov|avi|mts|mpg|mpeg|y4m)$/i;

export const isFilm = (path: string): boolean => FILM.test(path);
/** A film whose frames are stored sample by sample. */
export const isPlainFilm = (path: string): boolean => /\.y4m$/i.test(path);

export interface FilmFrames {
  /** where they lie, one PNG each, in order */
  readonly folder: string;
  readonly pictures: readonly string[];
  /** s between two frames; null where the film does not say */
  readonly step: number | null;
}

/**
 * Grey frames of a film, every n-th, 16 bits deep where the film has more than 8. They lie in a folder named by the film's content stamp, so that work broken off finds them again.
 * The film is read as a local file only, and ffmpeg is given nothing to read from the keyboard.
 * @throws Refusal where ffmpeg is not installed or cannot read the film
 */
export async function framesOfFilm(path: string, every: number): Promise<FilmFrames> {
  const { size, mtimeMs } = await stat(path).catch(() => {
    throw refused(path, "no such file", "a film");
  });
  const stamp = fingerprint({ path: resolve(path), size, mtimeMs, every });
  const folder = join(tmpdir(), `crossprism-film-${stamp.slice(0, 16)}`);
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  if (isPlainFilm(path)) return { folder, ...(await unpackY4m(path, every, folder)) };
  const { code, text } = await ffmpeg(path, [
    ...["-nostdin", "-hide_banner", "-protocol_whitelist", "file", "-i", path],
    ...["-map", "0:v:0", "-vf", `select=not(mod(n\\,${every})),format=gray|gray16be`],
    ...["-fps_mode", "passthrough", "-f", "image2", join(folder, "%06d.png")],
  ]);
  const names = (await readdir(folder)).filter((name) => name.endsWith(".png")).sort();
  if (code !== 0 || names.length === 0) {
    await rm(folder, { recursive: true, force: true });
    throw refused(path, "a film that ffmpeg cannot read", "a film with a picture track");
  }
  const rate = /(\d+(?:\.\d+)?) fps/.exec(text);
  return {
    folder,
    pictures: names.map((name) => join(folder, name)),
    step: rate === null ? null : every / Number(rate[1]),
  };
}

/** Every n-th frame of an uncompressed film as a PNG, sample by sample as the page reads it. */
async function unpackY4m(path: string, every: number, folder: string): Promise<Omit<FilmFrames, "folder">> {
  const file = await open(path);
  try {
    const film = await openY4m(async (from, to) => {
      const { buffer, bytesRead } = await file.read(new Uint8Array(to - from), 0, to - from, from);
      return buffer.subarray(0, bytesRead);
    }, path);
    const pictures: string[] = [];
    let seen = 0;
    for await (const frame of film.frames()) {
      if (seen++ % every !== 0) continue;
      const picture = join(folder, `${String(pictures.length + 1).padStart(6, "0")}.png`);
      await writeFile(picture, encodePng(frame));
      pictures.push(picture);
    }
    if (pictures.length === 0) throw refused(path, "a film without frames", "a film of at least one frame");
    return { pictures, step: film.perSecond === null ? null : every / film.perSecond };
  } catch (error) {
    await rm(folder, { recursive: true, force: true });
    throw error;
  } finally {
    await file.close();
  }
}

function ffmpeg(path: string, args: readonly string[]): Promise<{ code: number | null; text: string }> {
  return new Promise((done, fail) => {
    const child = spawn("ffmpeg", args, { stdio: ["ignore", "ignore", "pipe"] });
    let text = "";
    child.stderr.setEncoding("utf8").on("data", (part: string) => {
      if (text.length < 20_000) text += part;
    });
    child.on("error", () => {
      fail(
        refused(
          basename(path),
          "a film, and no ffmpeg installed that could unpack it",
          "a folder of pictures, or ffmpeg on the path (Debian: apt install ffmpeg)",
        ),
      );
    });
    child.on("close", (code) => {
      done({ code, text });
    });
  });
}

function refused(field: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "film-unreadable", field, received, expected });
}
