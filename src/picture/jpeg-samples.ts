/**
 * From JPEG coefficients to samples: the inverse cosine transform in whole numbers, after C. Loeffler, A. Ligtenberg and
 * G. Moschytz (ICASSP 1989, 988–991: eleven multiplications), with 13 bits of the constants and two more bits kept between its two
 * passes. These widths are common practice; with them the samples are, bit for bit, those of the usual libraries (jpeg.test.ts).
 */
import type { Component } from "./jpeg-scan.ts";

const BITS = 13;
const KEPT = 2;
const fixed = (value: number): number => Math.round(value * (1 << BITS));

// Of the even part: √2 times cosines of multiples of π/16 and their sums.
const C6 = fixed(0.541196100146197);
const C2_MINUS_C6 = fixed(0.765366864730179);
const C2_PLUS_C6 = fixed(1.847759065022573);
// Of the odd part.
const A0 = fixed(0.298631336101872);
const A1 = fixed(2.053119869106186);
const A2 = fixed(3.072711026484617);
const A3 = fixed(1.501321110113366);
const B1 = fixed(0.899976223136416);
const B2 = fixed(2.562915447741505);
const B3 = fixed(1.961570560806461);
const B4 = fixed(0.390180644032257);
const B5 = fixed(1.175875602419359);

/** Eight numbers of `block` from `at` on, `step` apart, transformed in place; `down` bits are taken off. */
function transform(block: Int32Array, at: number, step: number, down: number): void {
  const half = 1 << (down - 1);
  const i1 = at + step;
  const i2 = i1 + step;
  const i3 = i2 + step;
  const i4 = i3 + step;
  const i5 = i4 + step;
  const i6 = i5 + step;
  const i7 = i6 + step;
  const turned = (block[i2] + block[i6]) * C6;
  const even2 = turned - block[i6] * C2_PLUS_C6;
  const even3 = turned + block[i2] * C2_MINUS_C6;
  const even0 = (block[at] + block[i4]) * (1 << BITS);
  const even1 = (block[at] - block[i4]) * (1 << BITS);
  const e0 = even0 + even3 + half;
  const e3 = even0 - even3 + half;
  const e1 = even1 + even2 + half;
  const e2 = even1 - even2 + half;
  const s7 = block[i7];
  const s5 = block[i5];
  const s3 = block[i3];
  const s1 = block[i1];
  const all = (s7 + s3 + s5 + s1) * B5;
  const outer = -(s7 + s1) * B1;
  const inner = -(s5 + s3) * B2;
  const z3 = all - (s7 + s3) * B3;
  const z4 = all - (s5 + s1) * B4;
  const o0 = s7 * A0 + outer + z3;
  const o1 = s5 * A1 + inner + z4;
  const o2 = s3 * A2 + inner + z3;
  const o3 = s1 * A3 + outer + z4;
  block[at] = (e0 + o3) >> down;
  block[i7] = (e0 - o3) >> down;
  block[i1] = (e1 + o2) >> down;
  block[i6] = (e1 - o2) >> down;
  block[i2] = (e2 + o1) >> down;
  block[i5] = (e2 - o1) >> down;
  block[i3] = (e3 + o0) >> down;
  block[i4] = (e3 - o0) >> down;
}

/** A component's samples: rows of 8 · stride, all its stored blocks. */
export function samplesOf(component: Component, quantiser: Uint16Array): Uint8ClampedArray {
  const { coefficients, stride } = component;
  const width = 8 * stride;
  const blocks = coefficients.length / 64;
  const out = new Uint8ClampedArray(coefficients.length);
  const block = new Int32Array(64);
  for (let b = 0; b < blocks; b++) {
    for (let i = 0; i < 64; i++) block[i] = coefficients[64 * b + i] * quantiser[i];
    for (let i = 0; i < 8; i++) transform(block, i, 8, BITS - KEPT);
    for (let i = 0; i < 64; i += 8) transform(block, i, 1, BITS + KEPT + 3);
    const base = Math.floor(b / stride) * 8 * width + (b % stride) * 8;
    for (let r = 0; r < 8; r++)
      for (let c = 0; c < 8; c++) out[base + r * width + c] = block[8 * r + c] + 128;
  }
  return out;
}
