/** Against results of 106 bits and more, written by reference.py with mpmath, and against the engine's own functions. */
import { describe, expect, it } from "vitest";
import * as own from "./index.ts";
import reference from "./reference.json" with { type: "json" };

type Name = keyof typeof own;
const NAMES = Object.keys(own) as Name[];
type Functions = Readonly<Record<Name, (...args: number[]) => number>>;
const call = (from: Functions, name: Name, args: readonly number[]): number => from[name](...args);

/** Stated largest errors, units of the last place; 1 where nothing is said. */
const BOUND: Partial<Record<Name, number>> = { asinh: 2 };
/** What the results of this table come to; larger than the errors of all others, so that a slip of a digit shows. */
const USUAL = 0.8;
const LOOSER: readonly Name[] = ["asinh", "hypot"];

const bits = new Float64Array(1);
const words = new BigInt64Array(bits.buffer);
/** Distance from a double to the next larger in size. */
function ulp(x: number): number {
  bits[0] = Math.abs(x);
  words[0] += 1n;
  return bits[0] - Math.abs(x);
}

it.each(NAMES)("%s keeps its bound", (name) => {
  const rows: readonly (readonly number[])[] = reference[name];
  expect(rows.length).toBeGreaterThan(15);
  let worst = 0;
  for (const row of rows) {
    const [high, low] = row.slice(-2) as [number, number];
    const made = call(own, name, row.slice(0, -2));
    const error = Math.abs(made - high - low) / ulp(high);
    expect(error, `${name}(${row.slice(0, -2).join(", ")}) = ${made}`).toBeLessThan(BOUND[name] ?? 1);
    worst = Math.max(worst, error);
  }
  if (!LOOSER.includes(name)) expect(worst).toBeLessThan(USUAL);
});

/** Arguments that lie all over where a function is used. */
const RANGES: Record<Name, readonly (readonly [number, number])[]> = {
  exp: [[-745, 709]],
  expm1: [[-40, 40]],
  log: [[0, 10]],
  log1p: [[-1, 10]],
  log10: [[0, 1e4]],
  sin: [[-1e5, 1e5]],
  cos: [[-1e5, 1e5]],
  tan: [[-1e3, 1e3]],
  asin: [[-1, 1]],
  atan: [[-20, 20]],
  atan2: [
    [-1, 1],
    [-1, 1],
  ],
  sinh: [[-20, 20]],
  cosh: [[-20, 20]],
  asinh: [[-20, 20]],
  cbrt: [[-1e3, 1e3]],
  pow: [
    [0, 10],
    [-8, 8],
  ],
  hypot: [
    [-1, 1],
    [-1, 1],
  ],
};

it.each(NAMES)("%s lies within two units of the last place of the engine's own", (name) => {
  // Golden-ratio steps; both sides may err by one unit, asinh by two.
  const most = (BOUND[name] ?? 1) + 1;
  for (let i = 1; i <= 5000; i++) {
    const args = RANGES[name].map(([a, b], k) => a + (b - a) * ((i * [0.6180339887, 0.7548776662][k]) % 1));
    const theirs = call(Math, name, args);
    const apart = Math.abs(call(own, name, args) - theirs) / ulp(theirs);
    if (!(apart <= most)) expect.fail(`${name}(${args.join(", ")}): ${apart} units apart`);
  }
});

describe("where a function ends", () => {
  const ends = [0, -0, 1, -1, 2, -2, 0.5, -0.5, 3, 5e-324, -5e-324, 1e308, -1e308, Infinity, -Infinity, NaN];
  it.each(NAMES)("%s gives what the language gives", (name) => {
    const pairs = RANGES[name].length === 2;
    for (const a of ends)
      for (const b of pairs ? ends : [0]) {
        const args = pairs ? [a, b] : [a];
        const theirs = call(Math, name, args);
        const made = call(own, name, args);
        if (Number.isFinite(theirs) && theirs !== 0 && made !== theirs)
          expect(Math.abs(made - theirs) / ulp(theirs), `${name}(${args.join(", ")})`).toBeLessThanOrEqual(3);
        else expect(made, `${name}(${args.join(", ")})`).toBe(theirs);
      }
  });
});
