/** SHA-256 (FIPS 180-4) in plain arithmetic, for engines that bring none. Checked against Node.js in `same-bytes.test.ts`. */

const PRIMES = Array.from({ length: 312 }, (_, i) => i + 2)
  .filter((n) => Array.from({ length: n - 2 }, (_, i) => i + 2).every((d) => n % d !== 0))
  .slice(0, 64);

/** First 32 bits of the fractional part of the root of a prime, by whole numbers alone: floor(root(p · 2^(32 k)) ) mod 2^32. */
function fraction(prime: number, power: 2 | 3): number {
  const wanted = BigInt(prime) << BigInt(32 * power);
  let low = 0n;
  let high = 1n << 40n;
  while (high - low > 1n) {
    const middle = (low + high) / 2n;
    if (middle ** BigInt(power) <= wanted) low = middle;
    else high = middle;
  }
  return Number(low & 0xffffffffn);
}

const START = PRIMES.slice(0, 8).map((prime) => fraction(prime, 2));
const ROUND = PRIMES.map((prime) => fraction(prime, 3));

const turned = (x: number, n: number): number => (x >>> n) | (x << (32 - n));

export function sha256(bytes: Uint8Array): string {
  const blocks = Math.ceil((bytes.length + 9) / 64);
  const padded = new Uint8Array(blocks * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(padded.length - 4, (bytes.length * 8) >>> 0);
  const state = Int32Array.from(START, (x) => x | 0);
  const w = new Int32Array(64);
  for (let block = 0; block < blocks; block++) {
    for (let t = 0; t < 16; t++) w[t] = view.getInt32(block * 64 + 4 * t);
    for (let t = 16; t < 64; t++) {
      const a = w[t - 15];
      const b = w[t - 2];
      w[t] =
        w[t - 16] +
        (turned(a, 7) ^ turned(a, 18) ^ (a >>> 3)) +
        w[t - 7] +
        (turned(b, 17) ^ turned(b, 19) ^ (b >>> 10));
    }
    let [a, b, c, d, e, f, g, h] = state;
    for (let t = 0; t < 64; t++) {
      const one =
        (h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + ROUND[t] + w[t]) | 0;
      const two = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
    }
    for (const [i, x] of [a, b, c, d, e, f, g, h].entries()) state[i] += x;
  }
  return Array.from(state, (x) => (x >>> 0).toString(16).padStart(8, "0")).join("");
}
