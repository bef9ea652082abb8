import { describe, expect, it } from "vitest";
import { faddeeva } from "./faddeeva.ts";
import { addLines, addLinesWithSlope } from "./line-sum.ts";

const own = 2.4e15;
const shift = 3e7;
const half = 2e8;
const sigma = 3e9;
const amplitude = 1e5;
const packed = Float64Array.of(own, own + shift, half, sigma, amplitude);
/** Offsets on both sides of |z| = 8, 100 and 1000, where the regimes meet. */
const offsets = [0, 1e9, -1e9, 2.3e10, 2.5e10, -2.9e11, -3.1e11, 2.99e12, 3.01e12, -1e13, 5e13];
const omegas = Float64Array.from(offsets, (offset) => own + shift + offset);

/** The definition, term by term. */
function direct(omega: number): { re: number; im: number } {
  const w = new Float64Array(2);
  faddeeva((omega - own - shift) / sigma, half / sigma, w);
  const core = (amplitude * Math.sqrt(Math.PI)) / sigma;
  return { re: amplitude / (own + omega) - core * w[1], im: core * w[0] };
}

function sums(frequencies: Float64Array) {
  const make = () => new Float64Array(frequencies.length);
  const out = { re: make(), im: make(), slopeRe: make(), slopeIm: make() };
  addLinesWithSlope(packed, frequencies, out.re, out.im, out.slopeRe, out.slopeIm);
  return out;
}

describe("sum over lines", () => {
  it("is its definition in every regime", () => {
    const re = new Float64Array(omegas.length);
    const im = new Float64Array(omegas.length);
    addLines(packed, omegas, re, im);
    omegas.forEach((omega, k) => {
      const wanted = direct(omega);
      const size = Math.hypot(wanted.re, wanted.im);
      expect(Math.abs(re[k] - wanted.re) / size).toBeLessThan(1e-13);
      expect(Math.abs(im[k] / wanted.im - 1)).toBeLessThan(1e-13);
    });
  });

  it("becomes the classical oscillator A·2ω₀/(ω₀² − ω²) far out", () => {
    const far = Float64Array.of(own * 0.7, own * 1.6);
    const { re } = sums(far);
    far.forEach((omega, k) => {
      expect(re[k] / ((2 * own * amplitude) / (own * own - omega * omega))).toBeCloseTo(1, 6);
    });
  });

  it("has the slope that differences of the sum give", () => {
    const step = 3e5;
    const before = sums(omegas.map((omega) => omega - step));
    const after = sums(omegas.map((omega) => omega + step));
    const here = sums(omegas);
    omegas.forEach((_, k) => {
      const re = (after.re[k] - before.re[k]) / (2 * step);
      const im = (after.im[k] - before.im[k]) / (2 * step);
      // rounding of ω itself, half a unit in 2.4e15, over the step limits the differences
      const size = Math.hypot(here.slopeRe[k], here.slopeIm[k]);
      expect(Math.abs(here.slopeRe[k] - re) / size).toBeLessThan(2e-5);
      expect(Math.abs(here.slopeIm[k] - im) / size).toBeLessThan(2e-5);
    });
  });

  it("adds to what is there, and one block or many makes no difference", () => {
    const many = Float64Array.from({ length: 2000 }, (_, k) => own + (k - 1000) * 1e9);
    const re = new Float64Array(2000).fill(2);
    const im = new Float64Array(2000);
    addLines(packed, many, re, im);
    const single = new Float64Array(1).fill(2);
    const singleIm = new Float64Array(1);
    addLines(packed, many.slice(1234, 1235), single, singleIm);
    expect(re[1234]).toBe(single[0]);
    expect(im[1234]).toBe(singleIm[0]);
  });
});
