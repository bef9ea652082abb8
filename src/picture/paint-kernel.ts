import { kernelBytes } from "../numerics/wasm/bytes.ts";
import { PAINT } from "./wasm/paint-bytes.ts";

/**
 * The loops of lay.ts, fold.ts, fold-leaning.ts, beside.ts, view.ts and tint.ts on WebAssembly with 128-bit vectors: the same results to the last bit, sooner.
 * Arguments are those of the plain functions, arrays as byte offsets into the kernel's memory; see wasm/paint.as.
 */
export interface PaintKernel extends Loops {
  /** the kernel's memory, grown to so many pages of 64 KiB at least; views of the memory before it grew are dead */
  memory(pages: number): ArrayBuffer;
}

type Numbers<N extends number, T extends number[] = []> = T["length"] extends N
  ? T
  : Numbers<N, [number, ...T]>;

interface Loops {
  readonly lay: (...args: Numbers<27>) => void;
  readonly fold: (...args: Numbers<16>) => void;
  readonly foldLeaning: (...args: Numbers<21>) => void;
  readonly clear: (...args: Numbers<5>) => void;
  readonly brighter: (...args: Numbers<4>) => void;
  readonly view: (...args: Numbers<12>) => void;
  readonly tint: (...args: Numbers<3>) => void;
}

let compiled: WebAssembly.Module | null | undefined;

/** Undefined where the machine has no WebAssembly vectors. */
export function createPaintKernel(): PaintKernel | undefined {
  if (compiled === undefined) {
    const bytes = kernelBytes(PAINT);
    compiled = WebAssembly.validate(bytes) ? new WebAssembly.Module(bytes) : null;
  }
  if (compiled === null) return undefined;
  const exports = new WebAssembly.Instance(compiled).exports as unknown as Loops & {
    readonly memory: WebAssembly.Memory;
  };
  const { memory, lay, fold, foldLeaning, clear, brighter, view, tint } = exports;
  return {
    lay,
    fold,
    foldLeaning,
    clear,
    brighter,
    view,
    tint,
    memory(pages) {
      const present = memory.buffer.byteLength / 65536;
      if (pages > present) memory.grow(pages - present);
      return memory.buffer;
    },
  };
}
