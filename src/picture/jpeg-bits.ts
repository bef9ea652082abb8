/** Bits of a JPEG scan and the Huffman codes in them (ITU-T T.81, annex F). */

/** A code's length and symbol for every 16 bits that may come: length · 256 + symbol; 0 where no code begins so. */
export type HuffmanTable = Uint16Array;

/**
 * @param counts codes of each length from 1 to 16
 * @param symbols in the order of their codes
 */
export function huffmanTable(counts: ArrayLike<number>, symbols: ArrayLike<number>): HuffmanTable {
  const table = new Uint16Array(65_536);
  let code = 0;
  let at = 0;
  for (let length = 1; length <= 16; length++) {
    for (let i = 0; i < counts[length - 1]; i++, at++, code++) {
      const from = code << (16 - length);
      if (from >= 65_536) throw new Error("more codes than fit");
      table.fill(length * 256 + symbols[at], from, from + (1 << (16 - length)));
    }
    code <<= 1;
  }
  return table;
}

/** Reads a scan's bits, most significant first, without the zero that follows each stored byte of ones. */
export class BitReader {
  readonly #bytes: Uint8Array;
  /** next byte to take; stays at a marker */
  #at: number;
  #hold = 0;
  #count = 0;
  /** bits in hand that the file does not have */
  #invented = 0;

  constructor(bytes: Uint8Array, at: number) {
    this.#bytes = bytes;
    this.#at = at;
  }

  /** Where the marker after the scan stands, or the end of the file. */
  get position(): number {
    return this.#at;
  }

  /** At least 16 bits in hand. */
  #fill(): void {
    while (this.#count <= 16) {
      let byte = 0;
      if (this.#at < this.#bytes.length && this.#bytes[this.#at] !== 0xff) byte = this.#bytes[this.#at++];
      else if (this.#bytes[this.#at + 1] === 0 && this.#at + 1 < this.#bytes.length) {
        byte = 0xff;
        this.#at += 2;
      } else this.#invented += 8;
      this.#hold = ((this.#hold & 0xffff) << 8) | byte;
      this.#count += 8;
    }
  }

  #take(bits: number): void {
    this.#count -= bits;
    if (this.#count < this.#invented) throw new Error("the scan ends too early");
  }

  /** @throws Error where no code of the table begins so, or the scan has ended */
  symbol(table: HuffmanTable): number {
    if (this.#count < 16) this.#fill();
    const entry = table[(this.#hold >>> (this.#count - 16)) & 0xffff];
    if (entry === 0) throw new Error("bits that are no code");
    this.#take(entry >> 8);
    return entry & 0xff;
  }

  /** @param bits 0 … 16 */
  receive(bits: number): number {
    if (bits === 0) return 0;
    if (this.#count < 16) this.#fill();
    const value = (this.#hold >>> (this.#count - bits)) & ((1 << bits) - 1);
    this.#take(bits);
    return value;
  }

  /** A number of so many bits, those with a leading zero being the negative ones. */
  signed(bits: number): number {
    const value = this.receive(bits);
    return bits === 0 || value >= 1 << (bits - 1) ? value : value - (1 << bits) + 1;
  }

  /** Goes on behind the restart marker that must stand here. */
  restart(): void {
    const bytes = this.#bytes;
    while (bytes[this.#at] === 0xff && bytes[this.#at + 1] === 0xff) this.#at++;
    if (bytes[this.#at] !== 0xff || (bytes[this.#at + 1] & 0xf8) !== 0xd0)
      throw new Error("no restart where one must be");
    this.#at += 2;
    this.#hold = this.#count = this.#invented = 0;
  }
}
