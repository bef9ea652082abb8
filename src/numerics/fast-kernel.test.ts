import { describe, expect, it } from "vitest";
import { faddeevaArray } from "./faddeeva.ts";
import { createFastKernel, type FastKernel } from "./fast-kernel.ts";
import { addLines } from "./line-sum.ts";

function kernel(): FastKernel {
  const made = createFastKernel();
  if (made === undefined) throw new Error("this machine has no WebAssembly vectors");
  return made;
}

/** Points of every regime in no order: cells, strip, far, mirror images, axes. */
function points(count: number): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  let seed = 20261125;
  const next = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return seed / 2 ** 32;
  };
  for (let k = 0; k < count; k++) {
    const kind = Math.floor(next() * 6);
    const sign = next() < 0.5 ? -1 : 1;
    x[k] = sign * (kind < 4 ? next() * 9 : 10 ** (next() * 12 - 2));
    y[k] = [next() * 9, 10 ** (-12 * next()), 0, 10 ** (-300 * next()), next() * 100, 0][kind];
    if (kind === 5 && next() < 0.2) x[k] = sign * 0;
  }
  return { x, y };
}

describe("fast kernel", () => {
  it("gives the plain kernel's Faddeeva function to the last bit, in odd lengths too", () => {
    const fast = kernel();
    for (const count of [1, 2, 1023, 1025, 5001]) {
      const { x, y } = points(count);
      const plain = new Float64Array(2 * count);
      const quick = new Float64Array(2 * count);
      faddeevaArray(x, y, plain);
      fast.faddeevaArray(x, y, quick);
      expect(quick).toEqual(plain);
    }
  });

  it("gives the plain sum over lines to the last bit, near and far, sorted or not", () => {
    const fast = kernel();
    const packed = new Float64Array(5 * 300);
    for (let k = 0; k < 300; k++) {
      packed.set([2.4e15 + k * 1e9, 2.4e15 + k * 1e9 + 1e7, 10 ** (6 + (k % 5)), 3e9, 1e5 + k], 5 * k);
    }
    for (const count of [1, 7, 1024, 3001]) {
      const omegas = Float64Array.from({ length: count }, (_, k) => 2.4e15 + 1e12 * Math.sin(k * k));
      const plain = { re: new Float64Array(count).fill(1), im: new Float64Array(count) };
      const quick = { re: new Float64Array(count).fill(1), im: new Float64Array(count) };
      addLines(packed, omegas, plain.re, plain.im);
      fast.addLines(packed, omegas, quick.re, quick.im);
      expect(quick).toEqual(plain);
    }
  });

  it("refuses what the plain one refuses", () => {
    expect(() => {
      kernel().faddeevaArray(Float64Array.of(1), Float64Array.of(-1), new Float64Array(2));
    }).toThrow(/Im z ≥ 0/);
  });
});
