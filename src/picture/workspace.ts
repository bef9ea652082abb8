/** Memory of the renderer, kept from picture to picture so that a dragged control allocates nothing. */
import type { HeightKernel, LeaningTaps } from "./blur.ts";
import { createPaintKernel, type PaintKernel } from "./paint-kernel.ts";

/** Arrays of a workspace and what they hold. */
const KINDS = {
  /** HeightKernel.sums of the present spread */
  sums: Float32Array,
  /** weights along the width of the present spread */
  taps: Float32Array,
  /** light gathered into places along the width, one column each, with margins */
  gathered: Float32Array,
  /** first and last touched row of each place */
  low: Int32Array,
  high: Int32Array,
  /** the same for each column of the picture */
  from: Int32Array,
  to: Int32Array,
  /** one column, or one tile, while it is folded with the spread along the width */
  column: Float32Array,
  /** of a turned picture: weights of each row, place 0 of each row and its part of a place, first moments across (`foldLeaning`) */
  rowTaps: Float32Array,
  rowStart: Int32Array,
  rowPart: Float32Array,
  across: Float32Array,
  /** position of each wavelength on the sensor, pixels from its middle */
  position: Float64Array,
  /** light of each interval between wavelengths, relative to the brightest column's */
  share: Float64Array,
  /** the bundle's arrays, where a kernel must find them */
  weights: Float64Array,
  deflection: Float64Array,
  transmission: Float64Array,
  /** a few wavelengths of the bundle, their heights side by side */
  slab: Float64Array,
  /** relative light, rows × columns */
  picture: Float32Array,
  /** another picture, to be laid beside it */
  beside: Float32Array,
  /** linear red, green and blue of full light over the width, and the screen's own curve */
  hue: Float32Array,
  screen: Uint8Array,
  /** RGBA, rows × columns */
  words: Uint32Array,
  /** what lies over one row of them */
  tints: Uint32Array,
} as const;

type Kinds = typeof KINDS;
type Name = keyof Kinds;
export type Arrays = { readonly [K in Name]: InstanceType<Kinds[K]> & { readonly buffer: ArrayBuffer } };

/**
 * Scratch of one renderer. Holds no state that shows: every picture leaves `gathered` all zero again. All arrays lie in one
 * block of memory, which the kernel shares.
 */
export interface Workspace {
  /** the loops on WebAssembly; undefined where the machine has no vectors: the plain ones then give the same bits */
  readonly kernel: PaintKernel | undefined;
  /** made anew when one of them must grow */
  arrays: Arrays;
  spread: Spread | undefined;
  hues: Hues | undefined;
  /** pixels of the picture laid down last that more than its veil may light */
  litStretch: Stretch;
}

/** Pixels of a picture in reading order, from the first up to the end and without it; both multiples of four but the picture's own end. */
export interface Stretch {
  readonly first: number;
  readonly end: number;
}

/** Tables of the spread, kept as long as slits and blurs stay the same. */
export interface Spread {
  /** slit image and blur along the height, pixels, and the table made for them */
  readonly height: readonly [number, number];
  readonly kernel: HeightKernel;
  /** slit image and blur along the width, pixels, the places per column and the weights made for them */
  readonly width: readonly [number, number];
  readonly sub: number;
  readonly taps: Float32Array;
  /** the weights of turned pictures, made when the first one is drawn */
  readonly leaning: LeaningTaps | undefined;
  /** the arrays into which the tables were copied last */
  readonly placed: Arrays | undefined;
}

/** Colours of a picture's columns, kept as long as they stand for the same wavelengths. */
export interface Hues {
  /** what they were made from: a map never changes, so that the same one is enough */
  readonly of: readonly unknown[];
  readonly hue: Float32Array;
}

/** Bytes before the first array, and to the multiple of which arrays begin. */
const START = 1024;
const ALIGNED = 64;
/** Bytes behind each array that a loop over sixteen rows may read. */
const SPARE = 64;
/** Room beyond what is asked for, so that a little more next time needs nothing new. */
const ROOM = 1.25;
const PAGE = 65536;
/** Steps of the table from linear light to screen values. */
export const SCREEN_STEPS = 4096;

/** @param kernel false keeps to the plain loops */
export function createWorkspace(kernel = true): Workspace {
  const own = kernel ? createPaintKernel() : undefined;
  return {
    kernel: own,
    arrays: arraysIn(new ArrayBuffer(START), {}),
    spread: undefined,
    hues: undefined,
    litStretch: { first: 0, end: 0 },
  };
}

type Lengths = Readonly<Partial<Record<Name, number>>>;

/** What a picture and its colours need. */
export function viewLengths(columns: number, rows: number): Lengths {
  const count = columns * rows;
  return { picture: count, words: count, tints: columns, screen: SCREEN_STEPS + 1 };
}

export function fits(space: Workspace, lengths: Lengths): boolean {
  return (Object.keys(lengths) as Name[]).every((name) => space.arrays[name].length >= (lengths[name] ?? 0));
}

/** Makes sure that the arrays named have these lengths at least. What they held is lost when one must grow. */
export function reserve(space: Workspace, lengths: Lengths): Arrays {
  if (fits(space, lengths)) return space.arrays;
  const wanted: Partial<Record<Name, number>> = {};
  for (const name of Object.keys(KINDS) as Name[]) {
    const has = space.arrays[name].length;
    const needs = lengths[name] ?? 0;
    wanted[name] = needs > has ? Math.ceil(needs * ROOM) : has;
  }
  const bytes = endOf(wanted);
  space.arrays = arraysIn(space.kernel?.memory(Math.ceil(bytes / PAGE)) ?? new ArrayBuffer(bytes), wanted);
  space.arrays.gathered.fill(0);
  return space.arrays;
}

function arraysIn(buffer: ArrayBuffer, lengths: Lengths): Arrays {
  let at = START;
  const made = Object.entries(KINDS).map(([name, Kind]) => {
    const length = lengths[name as Name] ?? 0;
    const array = new Kind(buffer, at > buffer.byteLength ? 0 : at, length);
    at += bytesOf(name as Name, length);
    return [name, array] as const;
  });
  return Object.fromEntries(made) as unknown as Arrays;
}

function endOf(lengths: Lengths): number {
  let at = START;
  for (const name of Object.keys(KINDS) as Name[]) at += bytesOf(name, lengths[name] ?? 0);
  return at;
}

function bytesOf(name: Name, length: number): number {
  return Math.ceil((length * KINDS[name].BYTES_PER_ELEMENT + SPARE) / ALIGNED) * ALIGNED;
}
