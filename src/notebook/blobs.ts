/** Files of a notebook: original bytes under their SHA-256, in a folder beside the database. */

import { createHash, randomBytes } from "node:crypto";
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import { Refusal } from "../quantity/index.ts";

const ENDINGS: Readonly<Record<string, string>> = {
  "image/png": "png",
  "image/jpeg": "jpg",
  "image/tiff": "tif",
  "image/fits": "fits",
  "image/webp": "webp",
  "application/pdf": "pdf",
  "text/html": "html",
  "application/json": "json",
  "video/mp4": "mp4",
  "video/webm": "webm",
  "application/zip": "zip",
};

/** First bytes by which a kind of file is known; from the formats' own definitions. */
const MAGIC: readonly (readonly [media: string, at: number, bytes: string])[] = [
  ["image/png", 0, "\x89PNG\r\n\x1a\n"],
  ["image/jpeg", 0, "\xff\xd8\xff"],
  ["image/tiff", 0, "II*\0"],
  ["image/tiff", 0, "MM\0*"],
  ["image/fits", 0, "SIMPLE  ="],
  ["image/webp", 8, "WEBP"],
  ["application/pdf", 0, "%PDF-"],
  ["video/mp4", 4, "ftyp"],
  ["video/webm", 0, "\x1a\x45\xdf\xa3"],
  ["application/zip", 0, "PK\x03\x04"],
];

/** Media type told from the bytes alone. */
export function mediaOf(bytes: Uint8Array): string {
  const head = Buffer.from(bytes.subarray(0, 512)).toString("latin1");
  const known = MAGIC.find(([, at, magic]) => head.startsWith(magic, at));
  if (known !== undefined) return known[0];
  if (/^\s*(?:<!doctype html|<html)/i.test(head)) return "text/html";
  if (/^\s*[{[]/.test(head)) return "application/json";
  return "application/octet-stream";
}

export function sha256Of(bytes: Uint8Array | string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

/** Path of a file within the notebook, with "/" on every system. */
export function blobName(sha256: string, media: string): string {
  return `files/${sha256.slice(0, 2)}/${sha256}.${ENDINGS[media] ?? "bin"}`;
}

/**
 * Keeps bytes so that they are on the disk before this returns: written under another name, synced, then named. Bytes
 * that are there already are left alone.
 */
export function keepBlob(
  folder: string,
  bytes: Uint8Array,
): { readonly sha256: string; readonly media: string } {
  const sha256 = sha256Of(bytes);
  const media = mediaOf(bytes);
  const path = join(folder, blobName(sha256, media));
  if (existsSync(path) && statSync(path).size === bytes.length) return { sha256, media };
  const place = join(path, "..");
  const isNew = !existsSync(place);
  mkdirSync(place, { recursive: true });
  const temporary = join(place, `.${randomBytes(6).toString("hex")}.part`);
  try {
    const handle = openSync(temporary, "wx", 0o444);
    try {
      let done = 0;
      while (done < bytes.length) done += writeSync(handle, bytes, done);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(temporary, path);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
  syncFolder(place);
  if (isNew) syncFolder(join(place, ".."));
  return { sha256, media };
}

/** A name is safe only when its folder is on the disk too; Windows has no such call and needs none. */
export function syncFolder(path: string): void {
  if (process.platform === "win32") return;
  const handle = openSync(path, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

export type BlobState = "whole" | "missing" | "altered";

export function blobState(folder: string, sha256: string, media: string): BlobState {
  const path = join(folder, blobName(sha256, media));
  if (!existsSync(path)) return "missing";
  return sha256Of(readFileSync(path)) === sha256 ? "whole" : "altered";
}

/** @throws Refusal where the file is gone or no longer what was kept */
export function readBlob(folder: string, sha256: string, media: string): Buffer {
  const path = join(folder, blobName(sha256, media));
  const bytes = existsSync(path) ? readFileSync(path) : undefined;
  if (bytes !== undefined && sha256Of(bytes) === sha256) return bytes;
  throw new Refusal({
    code: "file-damaged",
    field: blobName(sha256, media),
    received: bytes === undefined ? "no such file in the notebook" : "bytes that are not those once kept",
    expected: "the file as it was added",
  });
}

/** Files that lie in the notebook's folder, by SHA-256 in their names. */
export function blobsOnDisk(folder: string): Map<string, string> {
  const found = new Map<string, string>();
  const root = join(folder, "files");
  if (!existsSync(root)) return found;
  for (const shelf of readdirSync(root)) {
    for (const name of readdirSync(join(root, shelf))) {
      const sha256 = /^([0-9a-f]{64})\./.exec(name)?.[1];
      if (sha256 !== undefined) found.set(sha256, `files/${shelf}/${name}`);
    }
  }
  return found;
}
