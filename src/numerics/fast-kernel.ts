import { exp } from "./elementary/index.ts";
import { checkUpperHalfPlane } from "./faddeeva.ts";
import { COEFFICIENTS } from "./faddeeva-far.ts";
import { faddeevaTable, fillNodeAt, TERMS } from "./faddeeva-table.ts";
import { PACKED } from "./line-sum.ts";
import { kernelBytes } from "./wasm/bytes.ts";
import { KERNEL } from "./wasm/kernel-bytes.ts";

/** `faddeevaArray` and `addLines` on WebAssembly with 128-bit vectors: the same results to the last bit, sooner. */
export interface FastKernel {
  /** as `faddeevaArray` of faddeeva.ts */
  faddeevaArray(x: Float64Array, y: Float64Array, out: Float64Array): void;
  /** as `addLines` of line-sum.ts */
  addLines(packed: Float64Array, omegas: Float64Array, re: Float64Array, im: Float64Array): void;
}

interface Exports {
  readonly memory: WebAssembly.Memory;
  /** `count`, or the index of the first point that w(z) is refused for */
  faddeeva(x: number, y: number, count: number, table: number, series: number, out: number): number;
  addLines(
    packed: number,
    components: number,
    omegas: number,
    count: number,
    re: number,
    im: number,
    x: number,
    y: number,
    w: number,
    index: number,
    table: number,
    series: number,
  ): void;
}

/** Where the kernel's table begins. */
const TABLE = 1024;
/** Points per call into the kernel, and components per call. */
const POINTS = 1024;
const COMPONENTS = 256;

/**
 * A kernel of its own memory (about 0.5 MB), the same in Node, in a browser and in a worker; undefined where the machine
 * has no WebAssembly vectors: then use `faddeevaArray` and `addLines`, which give the same numbers. Takes a few
 * milliseconds; keep it.
 */
export function createFastKernel(): FastKernel | undefined {
  const bytes = kernelBytes(KERNEL);
  if (!WebAssembly.validate(bytes)) return undefined;
  const instance: WebAssembly.Instance = new WebAssembly.Instance(new WebAssembly.Module(bytes), {
    host: {
      exp,
      fill: (node: number) => {
        fillNode((instance.exports as unknown as Exports).memory, node);
      },
    },
  });
  return kernelOf(instance.exports as unknown as Exports);
}

/** A node that the kernel meets for the first time, into the shared table and the kernel's own. */
function fillNode(memory: WebAssembly.Memory, node: number): void {
  const from = node * 2 * TERMS;
  fillNodeAt(from);
  new Float64Array(memory.buffer, TABLE).set(faddeevaTable().subarray(from, from + 2 * TERMS), from);
}

function kernelOf(exports: Exports): FastKernel {
  const table = faddeevaTable();
  // 16-byte steps keep the vectors aligned; two doubles to spare behind the arrays that are read in pairs
  let end = TABLE;
  const room = (doubles: number): number => {
    const start = end;
    end += 16 * Math.ceil(doubles / 2);
    return start;
  };
  const at = {
    table: room(table.length),
    series: room(COEFFICIENTS.length),
    packed: room(PACKED * COMPONENTS),
    omegas: room(POINTS + 2),
    re: room(POINTS + 2),
    im: room(POINTS + 2),
    x: room(POINTS),
    y: room(POINTS),
    w: room(2 * POINTS),
    index: room(POINTS),
  };
  const pages = Math.ceil(end / 65536);
  const present = exports.memory.buffer.byteLength / 65536;
  if (pages > present) exports.memory.grow(pages - present);
  const doubles = new Float64Array(exports.memory.buffer);
  doubles.set(table, at.table / 8);
  doubles.set(COEFFICIENTS, at.series / 8);

  // whole blocks move as one piece of memory; the views are made per block, not per point
  const copyIn = (from: Float64Array, start: number, count: number, pointer: number): void => {
    doubles.set(from.subarray(start, start + count), pointer / 8);
  };
  const copyOut = (pointer: number, count: number, to: Float64Array, start: number): void => {
    to.set(doubles.subarray(pointer / 8, pointer / 8 + count), start);
  };

  return {
    faddeevaArray(x, y, out) {
      for (let start = 0; start < x.length; start += POINTS) {
        const count = Math.min(POINTS, x.length - start);
        copyIn(x, start, count, at.x);
        copyIn(y, start, count, at.y);
        const done = exports.faddeeva(at.x, at.y, count, at.table, at.series, at.w);
        if (done < count) checkUpperHalfPlane(x, y);
        copyOut(at.w, 2 * count, out, 2 * start);
      }
    },
    addLines(packed, omegas, re, im) {
      for (let first = 0; first < packed.length; first += PACKED * COMPONENTS) {
        const numbers = Math.min(PACKED * COMPONENTS, packed.length - first);
        copyIn(packed, first, numbers, at.packed);
        for (let start = 0; start < omegas.length; start += POINTS) {
          const count = Math.min(POINTS, omegas.length - start);
          copyIn(omegas, start, count, at.omegas);
          copyIn(re, start, count, at.re);
          copyIn(im, start, count, at.im);
          const { x, y, w, index, table: coefficients, series } = at;
          exports.addLines(
            at.packed,
            numbers / PACKED,
            at.omegas,
            count,
            at.re,
            at.im,
            x,
            y,
            w,
            index,
            coefficients,
            series,
          );
          copyOut(at.re, count, re, start);
          copyOut(at.im, count, im, start);
        }
      }
    },
  };
}
