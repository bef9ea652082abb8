/** Files in and out of the command line: pictures decoded, texts read, results written whole or not at all. */

import { randomBytes } from "node:crypto";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { decodePicture, type Frame } from "../picture/index.ts";
import { Refusal } from "../quantity/index.ts";

export async function readText(path: string): Promise<string> {
  return (await readBytes(path)).toString("utf8");
}

export async function readBytes(path: string): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const received =
      code === "ENOENT"
        ? "no such file"
        : code === "EISDIR"
          ? "a folder"
          : `a file that cannot be read (${code ?? "unknown"})`;
    throw new Refusal({ code: "no-file", field: path, received, expected: "a readable file" });
  }
}

export async function readFrame(path: string): Promise<Frame> {
  return decodeFrame(await readBytes(path), path);
}

/**
 * A picture file's bytes as samples.
 * @param path name of the file, for a refusal
 * @throws Refusal in one sentence for what is no picture, damaged or too large
 */
export async function decodeFrame(bytes: Uint8Array, path: string): Promise<Frame> {
  return decodePicture(bytes, path);
}

/**
 * Writes several files into a folder, each first under a temporary name: either all stand, or none of the new ones.
 * An interrupt in between removes the temporary files.
 */
export async function writeAll(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
): Promise<string[]> {
  const staged: { temporary: string; final: string }[] = [];
  const clean = async (): Promise<void> => {
    await Promise.all(staged.map(({ temporary }) => rm(temporary, { force: true })));
  };
  const interrupted = (): void => {
    void clean().finally(() => process.exit(130));
  };
  process.once("SIGINT", interrupted);
  process.once("SIGTERM", interrupted);
  try {
    await mkdir(folder, { recursive: true });
    const tag = randomBytes(4).toString("hex");
    for (const [name, content] of Object.entries(files)) {
      const final = join(folder, name);
      const temporary = join(dirname(final), `.${basename(final)}.${tag}.part`);
      staged.push({ temporary, final });
      await writeFile(temporary, content);
    }
    for (const { temporary, final } of staged) await rename(temporary, final);
    return staged.map(({ final }) => final);
  } catch (error) {
    await clean();
    const { code } = error as NodeJS.ErrnoException;
    if (
      code !== undefined &&
      ["ENOSPC", "EACCES", "EROFS", "ENOTDIR", "EEXIST", "EISDIR", "EPERM"].includes(code)
    ) {
      throw new Refusal({
        code: "cannot-write",
        field: folder,
        received: `a folder that cannot be written (${code})`,
        expected: "a folder to write into",
      });
    }
    throw error;
  } finally {
    process.off("SIGINT", interrupted);
    process.off("SIGTERM", interrupted);
  }
}
