import { kernelBytes } from "../numerics/wasm/bytes.ts";
import type { BendLoop } from "./bend-loops.ts";
import { BEND } from "./wasm/bend-bytes.ts";

/** See wasm/bend.as; arrays are byte offsets into the memory. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  readonly bend: (
    count: number,
    refractivity: number,
    crossSection: number,
    gradient: number,
    gas: number,
    density: number,
    deflection: number,
    transmission: number,
  ) => void;
}

const PAGE = 65536;

let made: BendLoop | null | undefined;

/**
 * `plainBends` on WebAssembly with 128-bit vectors: the same results to the last bit, sooner, and as soon in the first picture as in the hundredth. Its memory
 * holds one curve. Undefined where the machine has no WebAssembly vectors.
 */
export function fastBends(): BendLoop | undefined {
  if (made === undefined) {
    const bytes = kernelBytes(BEND);
    made = WebAssembly.validate(bytes)
      ? loopOf(new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Exports)
      : null;
  }
  return made ?? undefined;
}

function loopOf({ memory, bend }: Exports): BendLoop {
  return ({ perAtom, gradient, gas, density, deflection, transmission }) => {
    const n = perAtom[0].crossSection.length;
    // One number more behind each array; an even count keeps the vectors aligned.
    const room = n + 2 - (n % 2);
    const pages = Math.ceil((4 * room * 8) / PAGE);
    const present = memory.buffer.byteLength / PAGE;
    if (pages > present) memory.grow(pages - present);
    const [refractivity, crossSection, bent, left] = [0, 1, 2, 3].map(
      (k) => new Float64Array(memory.buffer, k * room * 8, n),
    );
    for (let h = 0; h < density.length; h++) {
      if (h < perAtom.length && perAtom[h] !== perAtom[h - 1]) {
        refractivity.set(perAtom[h].refractivityPerDensity);
        crossSection.set(perAtom[h].crossSection);
      }
      bend(
        n,
        refractivity.byteOffset,
        crossSection.byteOffset,
        gradient[h],
        gas[h],
        density[h],
        bent.byteOffset,
        left.byteOffset,
      );
      deflection.set(bent, h * n);
      transmission.set(left, h * n);
    }
  };
}
