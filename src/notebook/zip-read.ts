/** Reads members of a ZIP file by name. Source: PKWARE, APPNOTE.TXT 6.3.10, sections as in zip-write.ts. */

import { closeSync, fstatSync, openSync, readSync } from "node:fs";
import { inflateRawSync } from "node:zlib";
import { Refusal } from "../quantity/index.ts";
import { crc32 } from "./crc32.ts";

const MOST_32 = 0xffffffff;
/** End record with its longest comment. */
const LONGEST_END = 22 + 0xffff;
/** Largest member that is taken out, bytes. */
const LARGEST_MEMBER = 1e9;

interface Member {
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
}

export class ZipReader {
  readonly #path: string;
  readonly #handle: number;
  readonly #members = new Map<string, Member>();

  /** @throws Refusal where the file is no whole ZIP archive */
  constructor(path: string) {
    this.#path = path;
    this.#handle = openSync(path, "r");
    try {
      this.#readDirectory();
    } catch (error) {
      this.close();
      if (error instanceof RangeError) throw this.#bad("an archive that is cut short or damaged");
      throw error;
    }
  }

  close(): void {
    closeSync(this.#handle);
  }

  names(): readonly string[] {
    return [...this.#members.keys()];
  }

  /** @throws Refusal where the member is missing, too large, or not what was packed */
  read(name: string): Buffer {
    const member = this.#members.get(name);
    if (member === undefined) throw this.#bad(`an archive without ${name}`);
    if (member.size > LARGEST_MEMBER) throw this.#bad(`${name} of more than 1 GB`);
    const header = this.#bytes(member.offset, 30);
    if (header.length < 30 || header.readUInt32LE(0) !== 0x04034b50) throw this.#bad(`a damaged ${name}`);
    const start = member.offset + 30 + header.readUInt16LE(26) + header.readUInt16LE(28);
    const bytes = this.#unpacked(name, member, this.#bytes(start, member.packed));
    if (bytes.length === member.size && crc32(bytes) === member.crc) return bytes;
    throw this.#bad(`a damaged ${name}`);
  }

  #unpacked(name: string, member: Member, packed: Buffer): Buffer {
    if (member.method === 0) return packed;
    if (member.method !== 8)
      throw this.#bad(`${name} packed by method ${member.method}, which is not known here`);
    try {
      return inflateRawSync(packed, { maxOutputLength: Math.max(1, member.size) });
    } catch {
      throw this.#bad(`a damaged ${name}`);
    }
  }

  #readDirectory(): void {
    const { size } = fstatSync(this.#handle);
    const tail = this.#bytes(Math.max(0, size - LONGEST_END), Math.min(size, LONGEST_END));
    const end = tail.lastIndexOf(Buffer.from("PK\x05\x06", "latin1"));
    if (end < 0 || end + 22 > tail.length) throw this.#bad("a file that is no ZIP archive");
    let length = tail.readUInt32LE(end + 12);
    let start = tail.readUInt32LE(end + 16);
    const locator = end >= 20 ? tail.subarray(end - 20, end) : Buffer.alloc(20);
    if (locator.readUInt32LE(0) === 0x07064b50) {
      const record = this.#bytes(Number(locator.readBigUInt64LE(8)), 56);
      length = Number(record.readBigUInt64LE(40));
      start = Number(record.readBigUInt64LE(48));
    }
    const directory = this.#bytes(start, length);
    if (directory.length < length) throw this.#bad("an archive that is cut short");
    for (let at = 0; at < directory.length; ) at = this.#readCentral(directory, at);
  }

  /** @returns where the next header begins */
  #readCentral(directory: Buffer, at: number): number {
    if (directory.readUInt32LE(at) !== 0x02014b50) throw this.#bad("an archive with a damaged directory");
    const nameEnd = at + 46 + directory.readUInt16LE(at + 28);
    const extraEnd = nameEnd + directory.readUInt16LE(at + 30);
    const wide = wideFields(directory.subarray(nameEnd, extraEnd));
    const field = (offset: number): number => {
      const value = directory.readUInt32LE(at + offset);
      return value === MOST_32 ? (wide.shift() ?? value) : value;
    };
    // In the extra field the sizes come in this order, each only where its own field is full.
    const size = field(24);
    const packed = field(20);
    const offset = field(42);
    this.#members.set(directory.toString("utf8", at + 46, nameEnd), {
      method: directory.readUInt16LE(at + 10),
      crc: directory.readUInt32LE(at + 16),
      packed,
      size,
      offset,
    });
    return extraEnd + directory.readUInt16LE(at + 32);
  }

  #bytes(start: number, length: number): Buffer {
    const bytes = Buffer.alloc(Math.min(length, Math.max(0, fstatSync(this.#handle).size - start)));
    let done = 0;
    while (done < bytes.length) {
      const count = readSync(this.#handle, bytes, done, bytes.length - done, start + done);
      if (count === 0) break;
      done += count;
    }
    return bytes;
  }

  #bad(received: string): Refusal {
    return new Refusal({ code: "bad-archive", field: this.#path, received, expected: "a whole ZIP archive" });
  }
}

/** 64-bit values of a ZIP64 extra field. */
function wideFields(extra: Buffer): number[] {
  for (let at = 0; at + 4 <= extra.length; at += 4 + extra.readUInt16LE(at + 2)) {
    if (extra.readUInt16LE(at) !== 0x0001) continue;
    const end = Math.min(extra.length, at + 4 + extra.readUInt16LE(at + 2));
    const values: number[] = [];
    for (let place = at + 4; place + 8 <= end; place += 8) values.push(Number(extra.readBigUInt64LE(place)));
    return values;
  }
  return [];
}
