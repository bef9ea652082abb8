import { BLOCK, type Room, type SlopeLoops } from "./slope-loops.ts";
import { kernelBytes } from "../numerics/wasm/bytes.ts";
import { SLOPES } from "./wasm/slopes-bytes.ts";

type Numbers<N extends number, T extends number[] = []> = T["length"] extends N
  ? T
  : Numbers<N, [number, ...T]>;

/** See wasm/slopes.as; arrays are byte offsets into the memory. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly addStretch: (...args: Numbers<20>) => void;
  readonly spread: (...args: Numbers<25>) => void;
  readonly turn: (...args: Numbers<11>) => void;
  readonly products: (...args: Numbers<13>) => void;
}

const PAGE = 65536;
/** The kernel keeps nothing of its own in memory; address 0 is left out. */
const START = 1024;

/** A kernel whose memory has grown beyond this is not kept: memory never shrinks, and pictures so large are few. */
const LARGEST_KEPT = 96 * 2 ** 20;

let compiled: WebAssembly.Module | null | undefined;
/**
 * The kernel of the readings so far. Kept for speed: calls into a new one run slowly until the engine has compiled them anew, which costs
 * every reading a tenth of a second.
 */
let kept: { readonly memory: WebAssembly.Memory; readonly loops: SlopeLoops } | undefined;

/**
 * `plainLoops` on WebAssembly with 128-bit vectors: the same results to the last bit, sooner. Arrays must come from their
 * own `room`, except what `turn` and `addProducts` write. Undefined where the machine has no WebAssembly vectors. One room
 * serves all who ask: whoever asks for it next takes it over.
 */
export function fastLoops(): SlopeLoops | undefined {
  if (compiled === undefined) {
    const bytes = kernelBytes(SLOPES);
    compiled = WebAssembly.validate(bytes) ? new WebAssembly.Module(bytes) : null;
  }
  if (compiled === null) return undefined;
  if (kept === undefined || kept.memory.buffer.byteLength > LARGEST_KEPT) {
    const kernel = new WebAssembly.Instance(compiled).exports as unknown as Exports;
    kept = { memory: kernel.memory, loops: loopsOf(kernel) };
  }
  return kept.loops;
}

function loopsOf(kernel: Exports): SlopeLoops {
  const { memory } = kernel;
  const room = (bytes: number): Room => {
    const pages = Math.ceil((START + bytes) / PAGE);
    const present = memory.buffer.byteLength / PAGE;
    if (pages > present) memory.grow(pages - present);
    const { buffer } = memory;
    let end = START;
    const next = (size: number): number => {
      const start = end;
      end += 16 * Math.ceil(size / 16);
      return start;
    };
    return {
      doubles: (count) => new Float64Array(buffer, next(8 * count), count).fill(0),
      words(from) {
        const to = new Int32Array(buffer, next(4 * from.length), from.length);
        to.set(from);
        return to;
      },
    };
  };
  return {
    room,
    addStretch(part, { slit, bySigma, byWidth }, { sums, height }, from, to, every) {
      kernel.addStretch(
        from,
        to,
        every,
        part.aSlope.length,
        sums.byteOffset,
        height.byteOffset,
        slit.shape.byteOffset,
        slit.integral.byteOffset,
        bySigma.shape.byteOffset,
        bySigma.integral.byteOffset,
        byWidth.shape.byteOffset,
        byWidth.integral.byteOffset,
        slit.shape.length - 1,
        slit.reach,
        part.a,
        part.b,
        part.light,
        part.aSlope.byteOffset,
        part.bSlope.byteOffset,
        part.lightSlope.byteOffset,
      );
    },
    spreadCell(cell, { plumb, byBlur }, { sums, height, centre }, first, last, every) {
      kernel.spread(
        first,
        last,
        every,
        cell.values.length - 1,
        sums.byteOffset,
        height.byteOffset,
        centre.byteOffset,
        cell.values.byteOffset,
        cell.along,
        cell.length,
        cell.mean,
        cell.upright,
        cell.byBlur,
        cell.bySigma,
        cell.byWidth,
        cell.smile,
        cell.s,
        cell.k,
        cell.columns,
        cell.rows,
        cell.index.byteOffset,
        cell.light.byteOffset,
        plumb.values.byteOffset,
        byBlur.values.byteOffset,
        plumb.half,
      );
    },
    turn({ light, stride, weight, weightDark, slots, perBrightness, stage }, out, apart) {
      const terms = slots.length;
      for (let from = 0; from < weight.length; from += BLOCK) {
        const count = Math.min(BLOCK, weight.length - from);
        kernel.turn(
          light.byteOffset,
          stride,
          weight.byteOffset,
          weightDark.byteOffset,
          from,
          count,
          slots.byteOffset,
          terms,
          perBrightness,
          stage.byteOffset,
          BLOCK,
        );
        for (let k = 0; k < terms; k++)
          out.set(stage.subarray(k * BLOCK, k * BLOCK + count), k * apart + from);
      }
    },
    addProducts({ light, stride, weight, weightDark, slots, perBrightness, stage }, rhs, gram, moment) {
      const terms = slots.length;
      // The right-hand side goes along as one more column; width × (BLOCK + width) numbers fit on the stage.
      const width = 4 * Math.ceil((terms + 1) / 4);
      const sums = stage.subarray(width * BLOCK, width * (BLOCK + width)).fill(0);
      kernel.products(
        light.byteOffset,
        stride,
        weight.byteOffset,
        weightDark.byteOffset,
        rhs.byteOffset,
        rhs.length,
        BLOCK,
        slots.byteOffset,
        terms,
        perBrightness,
        stage.byteOffset,
        width,
        sums.byteOffset,
      );
      for (let j = 0; j < terms; j++) {
        moment[j] += sums[terms * width + j];
        for (let i = 0; i <= j; i++) gram[j * terms + i] += sums[j * width + i];
      }
    },
  };
}
