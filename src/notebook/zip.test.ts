import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { crc32 } from "./crc32.ts";
import { ZipReader } from "./zip-read.ts";
import { ZipWriter } from "./zip-write.ts";

let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), "notebook-zip-"));
});
afterAll(() => rmSync(scratch, { recursive: true }));

/** Written by another program (Python 3.11, zipfile): a stored and a deflated member, and a comment at the end. */
const FOREIGN =
  "UEsDBBQAAAAAAABIYVxleNFaDwAAAA8AAAAMAAAAYS9zdG9yZWQudHh0c3RvcmVkIGFzIGl0IGlzUEsDBBQAAAgIAABIYVwH1m+QDgAAALQAAAALAAAAZ3LDtsOfZS50eHRLSU3LSSxJTVFIGToMAFBLAQIUAxQAAAAAAABIYVxleNFaDwAAAA8AAAAMAAAAAAAAAAAAAACAAQAAAABhL3N0b3JlZC50eHRQSwECFAMUAAAICAAASGFcB9ZvkA4AAAC0AAAACwAAAAAAAAAAAAAAgAE5AAAAZ3LDtsOfZS50eHRQSwUGAAAAAAIAAgBzAAAAcAAAABQAYSBjb21tZW50IGF0IHRoZSBlbmQ=";

function archive(name: string, members: Readonly<Record<string, string>>): string {
  const path = join(scratch, name);
  const zip = new ZipWriter(path);
  for (const [member, content] of Object.entries(members)) zip.add(member, content, content.length > 5);
  zip.close();
  return path;
}

describe("ZIP archives", () => {
  it("have the check sum that ISO 3309 gives for the digits 1 to 9", () => {
    // Check value of CRC-32/ISO-HDLC, from memory; Python's zlib.crc32 gives the same.
    expect(crc32(Buffer.from("123456789"))).toBe(0xcbf43926);
  });

  it("of another program are read", () => {
    const path = join(scratch, "foreign.zip");
    writeFileSync(path, Buffer.from(FOREIGN, "base64"));
    const zip = new ZipReader(path);
    expect(zip.names()).toEqual(["a/stored.txt", "größe.txt"]);
    expect(zip.read("a/stored.txt").toString()).toBe("stored as it is");
    expect(zip.read("größe.txt").toString()).toBe("deflated ".repeat(20));
    zip.close();
  });

  it("come back as they were written, the same bytes each time", () => {
    const members = { "a.txt": "x", empty: "", "deep/ü.json": "0123456789".repeat(1000) };
    const path = archive("one.zip", members);
    const zip = new ZipReader(path);
    for (const [name, content] of Object.entries(members)) expect(zip.read(name).toString()).toBe(content);
    zip.close();
    expect(readFileSync(archive("two.zip", members)).equals(readFileSync(path))).toBe(true);
  });

  it("may have more members than 16 bits can count", () => {
    const members = Object.fromEntries(Array.from({ length: 66_000 }, (_, i) => [`m${i}`, String(i)]));
    const zip = new ZipReader(archive("many.zip", members));
    expect(zip.names()).toHaveLength(66_000);
    expect(zip.read("m65999").toString()).toBe("65999");
    zip.close();
  });

  it("that are damaged are refused, each in one sentence", () => {
    const whole = readFileSync(archive("whole.zip", { "a.txt": "0123456789".repeat(100) }));
    const read = (bytes: Uint8Array): Buffer => {
      const path = join(scratch, "damaged.zip");
      writeFileSync(path, bytes);
      const zip = new ZipReader(path);
      try {
        return zip.read("a.txt");
      } finally {
        zip.close();
      }
    };
    expect(read(whole)).toHaveLength(1000);
    const flipped = Buffer.from(whole);
    flipped[40] ^= 0xff;
    expect(() => read(flipped)).toThrow(/expected a whole ZIP archive, received a damaged a\.txt\.$/);
    for (let length = 0; length < whole.length; length += 7)
      expect(() => read(whole.subarray(0, length)), String(length)).toThrow(/expected a whole ZIP archive/);
    // A member that claims to be small must not unpack to more.
    const bomb = Buffer.from(whole);
    bomb.writeUInt32LE(10, bomb.lastIndexOf("PK\x01\x02") + 24);
    expect(() => read(bomb)).toThrow(/received a damaged a\.txt/);
  });

  it("leave nothing behind when they are abandoned", () => {
    const path = join(scratch, "never.zip");
    const zip = new ZipWriter(path);
    zip.add("a", "b");
    zip.abandon();
    expect([existsSync(path), existsSync(`${path}.${process.pid}.part`)]).toEqual([false, false]);
  });
});
