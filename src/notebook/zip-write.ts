/**
 * Writes a ZIP file, one member after another, pictures as they are and texts deflated.
 * Source: PKWARE, APPNOTE.TXT 6.3.10: local header 4.3.7, central header 4.3.12, ZIP64 records 4.3.14 and 4.3.15, end
 * record 4.3.16, ZIP64 extra field 4.5.3, UTF-8 names by bit 11 of the flags (appendix D).
 */

import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import { crc32 } from "./crc32.ts";

const MOST_32 = 0xffffffff;
const MOST_16 = 0xffff;
const UTF8_NAMES = 0x0800;
const DEFLATED = 8;
/** 1 January 1980, 0:00, in the format's own form: the same content gives the same bytes. */
const NO_DATE = 0x0021;

interface Member {
  readonly name: Buffer;
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
}

export class ZipWriter {
  readonly #path: string;
  readonly #temporary: string;
  readonly #handle: number;
  readonly #members: Member[] = [];
  #at = 0;

  /** @param path where the file will stand once it is whole */
  constructor(path: string) {
    this.#path = path;
    this.#temporary = `${path}.${process.pid}.part`;
    this.#handle = openSync(this.#temporary, "wx");
  }

  /**
   * @param name path within the archive, with "/"
   * @param packed false for what is packed already, such as pictures
   */
  add(name: string, content: Uint8Array | string, packed = true): void {
    const bytes = typeof content === "string" ? Buffer.from(content) : content;
    const deflated = packed ? deflateRawSync(bytes) : bytes;
    const member: Member = {
      name: Buffer.from(name),
      method: packed ? DEFLATED : 0,
      crc: crc32(bytes),
      packed: deflated.length,
      size: bytes.length,
      offset: this.#at,
    };
    const header = Buffer.alloc(30);
    header.writeUInt32LE(0x04034b50, 0);
    header.writeUInt16LE(20, 4);
    this.#describe(header, 6, member);
    this.#write(header);
    this.#write(member.name);
    this.#write(deflated);
    this.#members.push(member);
  }

  /** Ends the archive and gives it its name. Where this throws, `abandon` it. */
  close(): void {
    const start = this.#at;
    for (const member of this.#members) this.#writeCentral(member);
    this.#writeEnd(start, this.#at - start);
    fsyncSync(this.#handle);
    closeSync(this.#handle);
    renameSync(this.#temporary, this.#path);
  }

  /** Leaves nothing behind. */
  abandon(): void {
    closeSync(this.#handle);
    rmSync(this.#temporary, { force: true });
  }

  /** Flags, method, date, check sum, sizes and length of the name: the same in both headers. */
  #describe(header: Buffer, at: number, member: Member): void {
    header.writeUInt16LE(UTF8_NAMES, at);
    header.writeUInt16LE(member.method, at + 2);
    header.writeUInt16LE(0, at + 4);
    header.writeUInt16LE(NO_DATE, at + 6);
    header.writeUInt32LE(member.crc, at + 8);
    header.writeUInt32LE(member.packed, at + 12);
    header.writeUInt32LE(member.size, at + 16);
    header.writeUInt16LE(member.name.length, at + 20);
  }

  #writeCentral(member: Member): void {
    const far = member.offset >= MOST_32;
    const header = Buffer.alloc(46);
    header.writeUInt32LE(0x02014b50, 0);
    header.writeUInt16LE(far ? 45 : 20, 4);
    header.writeUInt16LE(far ? 45 : 20, 6);
    this.#describe(header, 8, member);
    header.writeUInt16LE(far ? 12 : 0, 30);
    header.writeUInt32LE(far ? MOST_32 : member.offset, 42);
    this.#write(header);
    this.#write(member.name);
    if (!far) return;
    const extra = Buffer.alloc(12);
    extra.writeUInt16LE(0x0001, 0);
    extra.writeUInt16LE(8, 2);
    extra.writeBigUInt64LE(BigInt(member.offset), 4);
    this.#write(extra);
  }

  #writeEnd(start: number, size: number): void {
    const count = this.#members.length;
    if (count >= MOST_16 || start >= MOST_32 || size >= MOST_32) this.#writeEnd64(start, size);
    const end = Buffer.alloc(22);
    end.writeUInt32LE(0x06054b50, 0);
    end.writeUInt16LE(Math.min(count, MOST_16), 8);
    end.writeUInt16LE(Math.min(count, MOST_16), 10);
    end.writeUInt32LE(Math.min(size, MOST_32), 12);
    end.writeUInt32LE(Math.min(start, MOST_32), 16);
    this.#write(end);
  }

  #writeEnd64(start: number, size: number): void {
    const record = Buffer.alloc(56);
    const place = this.#at;
    record.writeUInt32LE(0x06064b50, 0);
    record.writeBigUInt64LE(44n, 4);
    record.writeUInt16LE(45, 12);
    record.writeUInt16LE(45, 14);
    record.writeBigUInt64LE(BigInt(this.#members.length), 24);
    record.writeBigUInt64LE(BigInt(this.#members.length), 32);
    record.writeBigUInt64LE(BigInt(size), 40);
    record.writeBigUInt64LE(BigInt(start), 48);
    this.#write(record);
    const locator = Buffer.alloc(20);
    locator.writeUInt32LE(0x07064b50, 0);
    locator.writeBigUInt64LE(BigInt(place), 8);
    locator.writeUInt32LE(1, 16);
    this.#write(locator);
  }

  #write(bytes: Uint8Array): void {
    let done = 0;
    while (done < bytes.length) done += writeSync(this.#handle, bytes, done);
    this.#at += bytes.length;
  }
}
