/**
 * JPEG files unpacked by the program itself, so that the page, whatever its browser, and the command line see the same samples:
 * sequential and progressive, Huffman coded, 8 bits, grey or three components (ITU-T T.81; JFIF 1.02). Samples as they are stored: not
 * turned, not colour-managed.
 */
import type { Frame } from "./api.ts";
import { huffmanTable, type HuffmanTable } from "./jpeg-bits.ts";
import { coloursOf, type Plane, stretcher } from "./jpeg-colour.ts";
import { samplesOf } from "./jpeg-samples.ts";
import { type Component, readScan, ZIGZAG } from "./jpeg-scan.ts";

interface Parts {
  readonly columns: number;
  readonly rows: number;
  readonly progressive: boolean;
  /** most samples of any component, and units of the picture */
  readonly across: number;
  readonly down: number;
  readonly unitsWide: number;
  readonly unitsHigh: number;
  readonly components: readonly Component[];
}

/** Whole, but of a kind that cameras do not write. */
export class OtherJpeg extends Error {}

/**
 * @throws OtherJpeg where the file is of another kind than said above; Error where it is damaged or cut short; both with a few
 * words
 */
export function decodeJpeg(bytes: Uint8Array): Frame {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const quantisers = new Map<number, Uint16Array>();
  const codes = new Map<number, HuffmanTable>();
  let parts: Parts | undefined;
  let restart = 0;
  let jfif = false;
  let adobe: number | undefined;
  let scans = 0;
  let at = 2;
  for (;;) {
    if (at + 2 > bytes.length) throw new Error("no end");
    if (bytes[at] !== 0xff) throw new Error("no marker where one must be");
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0xd9) break;
    const length = at + 4 <= bytes.length ? view.getUint16(at + 2) : 0;
    const [from, end] = [at + 4, at + 2 + length];
    if (length < 2 || end > bytes.length) throw new Error("a part cut short");
    at = end;
    if (marker === 0xdb) readQuantisers(view, from, end, quantisers);
    else if (marker === 0xc4) readCodes(bytes, from, end, codes);
    else if (marker === 0xdd) restart = view.getUint16(from);
    else if (marker === 0xe0) jfif ||= textAt(bytes, from, 4) === "JFIF";
    else if (marker === 0xee && textAt(bytes, from, 5) === "Adobe") adobe = bytes[from + 11];
    else if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc8 && marker !== 0xcc) {
      if (marker > 0xc2) throw new OtherJpeg("lossless or arithmetic coding");
      parts = readParts(view, from, marker === 0xc2);
    } else if (marker === 0xda) {
      if (parts === undefined) throw new Error("a scan before the picture's size");
      at = nextMarker(bytes, scanOf(bytes, from, end, parts, codes, restart));
      scans++;
    }
  }
  if (parts === undefined || scans === 0) throw new Error("no picture in it");
  return frameOf(parts, quantisers, isColourDifference(parts, jfif, adobe));
}

const textAt = (bytes: Uint8Array, from: number, count: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + count));

function readQuantisers(view: DataView, from: number, end: number, into: Map<number, Uint16Array>): void {
  for (let at = from; at < end; ) {
    const head = view.getUint8(at++);
    const wide = head >> 4 !== 0;
    const table = new Uint16Array(64);
    for (let i = 0; i < 64; i++, at += wide ? 2 : 1)
      table[ZIGZAG[i]] = wide ? view.getUint16(at) : view.getUint8(at);
    into.set(head & 15, table);
  }
}

/** Keyed by class (0: first coefficient, 16: the others) and number. */
function readCodes(bytes: Uint8Array, from: number, end: number, into: Map<number, HuffmanTable>): void {
  for (let at = from; at < end; ) {
    const counts = bytes.subarray(at + 1, at + 17);
    const total = counts.reduce((sum, n) => sum + n, 0);
    into.set(bytes[at], huffmanTable(counts, bytes.subarray(at + 17, at + 17 + total)));
    at += 17 + total;
  }
}

function readParts(view: DataView, from: number, progressive: boolean): Parts {
  if (view.getUint8(from) !== 8) throw new OtherJpeg("not 8 bits");
  const [rows, columns, count] = [
    view.getUint16(from + 1),
    view.getUint16(from + 3),
    view.getUint8(from + 5),
  ];
  if (count !== 1 && count !== 3) throw new OtherJpeg(`${count} colours`);
  const stated = Array.from({ length: count }, (_, i) => {
    const at = from + 6 + 3 * i;
    const factors = view.getUint8(at + 1);
    return {
      id: view.getUint8(at),
      // One component alone is stored block by block, whatever its factors say.
      across: count === 1 ? 1 : factors >> 4,
      down: count === 1 ? 1 : factors & 15,
      quantiser: view.getUint8(at + 2),
    };
  });
  const across = Math.max(...stated.map((each) => each.across));
  const down = Math.max(...stated.map((each) => each.down));
  if (stated.some((each) => across % each.across !== 0 || down % each.down !== 0))
    throw new OtherJpeg("colours stored at odd sizes");
  const unitsWide = Math.ceil(columns / (8 * across));
  const unitsHigh = Math.ceil(rows / (8 * down));
  const components = stated.map((each) => {
    const stride = unitsWide * each.across;
    return {
      ...each,
      blocksWide: Math.ceil(Math.ceil((columns * each.across) / across) / 8),
      blocksHigh: Math.ceil(Math.ceil((rows * each.down) / down) / 8),
      stride,
      coefficients: new Int16Array(64 * stride * unitsHigh * each.down),
      dc: undefined,
      ac: undefined,
      predicted: 0,
    };
  });
  return { columns, rows, progressive, across, down, unitsWide, unitsHigh, components };
}

/** Reads one scan into the coefficients. @returns where it ends */
function scanOf(
  bytes: Uint8Array,
  from: number,
  end: number,
  parts: Parts,
  codes: ReadonlyMap<number, HuffmanTable>,
  restart: number,
): number {
  const count = bytes[from];
  const components = Array.from({ length: count }, (_, i) => {
    const component = parts.components.find(({ id }) => id === bytes[from + 1 + 2 * i]);
    if (component === undefined) throw new Error("a scan of an unknown component");
    const tables = bytes[from + 2 + 2 * i];
    component.dc = codes.get(tables >> 4);
    component.ac = codes.get(16 + (tables & 15));
    component.predicted = 0;
    return component;
  });
  const band = from + 1 + 2 * count;
  const { progressive, unitsWide, unitsHigh } = parts;
  const scan = progressive
    ? { from: bytes[band], to: bytes[band + 1], high: bytes[band + 2] >> 4, low: bytes[band + 2] & 15 }
    : { from: 0, to: 63, high: 0, low: 0 };
  if (components.length === 0 || scan.to > 63) throw new Error("a scan of nothing");
  return readScan(bytes, end, { components, ...scan, restart, progressive, unitsWide, unitsHigh });
}

/** Bytes between a scan and the next marker are filling. */
function nextMarker(bytes: Uint8Array, at: number): number {
  let here = at;
  while (here + 1 < bytes.length && (bytes[here] !== 0xff || bytes[here + 1] === 0)) here++;
  return here;
}

/** Whether the three components are brightness and two colours, or red, green and blue themselves. */
function isColourDifference({ components }: Parts, jfif: boolean, adobe: number | undefined): boolean {
  if (jfif) return true;
  if (adobe !== undefined) return adobe !== 0;
  return String.fromCharCode(...components.map(({ id }) => id)) !== "RGB";
}

function frameOf(
  parts: Parts,
  quantisers: ReadonlyMap<number, Uint16Array>,
  colourDifference: boolean,
): Frame {
  const { columns, rows, components } = parts;
  const planes = components.map((component) => {
    const quantiser = quantisers.get(component.quantiser);
    if (quantiser === undefined) throw new Error("a component without its table");
    const plane: Plane = {
      columns: Math.ceil((columns * component.across) / parts.across),
      rows: Math.ceil((rows * component.down) / parts.down),
      stride: 8 * component.stride,
      samples: samplesOf(component, quantiser),
    };
    const stretch = stretcher(plane, parts.across / component.across, parts.down / component.down);
    return { plane, stretch, row: new Uint8Array(columns) };
  });
  const channels = planes.length === 1 ? 1 : 3;
  const samples = new Uint8ClampedArray(columns * rows * channels);
  for (let r = 0; r < rows; r++) {
    for (const { plane, stretch, row } of planes) stretch(plane, r, row);
    const at = r * columns * channels;
    const [first, second, third] = planes;
    if (channels === 1) samples.set(first.row, at);
    else if (colourDifference) coloursOf(first.row, second.row, third.row, samples, at);
    else
      for (let c = 0; c < columns; c++)
        for (let k = 0; k < 3; k++) samples[at + 3 * c + k] = planes[k].row[c];
  }
  return { columns, rows, channels, depth: 8, samples: new Uint8Array(samples.buffer) };
}
