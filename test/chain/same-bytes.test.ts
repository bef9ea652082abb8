/** One seed, one picture: the bytes of six pictures, kept here, by both ways of laying light down. docs/light-path.md says what else was tried. */
import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import { hashes } from "./same-bytes-job.ts";
import { sha256 } from "./sha256.ts";

/** SHA-256 of the samples, little-endian, of each setup and seed. */
const KEPT = [
  "sodium 1 66bb189e33c1e442af14bdd8b162db0f2d8107a70ae8600f1bb724b3b2bab773",
  "sodium 2 d62bc5f4db0a431a726716a31894bea2cd02d739bf3fdeb12ed9307f5a90d884",
  "sodium 20261125 a886616432d83971fd2eb6490b2e0864beb8dffc70829eb9759d5b3f84ecde0e",
  "blue-twins 1 6d9ee74cab08ae4cdde4db441ccb9348712ed0b68ed31b9e82992e1c4307fe69",
  "blue-twins 2 c8d08672b2ee3a15a6f6b77863a15be40c6bdab5b664993a0617417fb0ffad61",
  "blue-twins 20261125 8b55ccbd856188bbb74c53b39f4b46c8fad12f7209a286b6f829950e87c1d0e7",
];

it("the samples have the kept SHA-256, and the light before them the same bits with and without WebAssembly", () => {
  const vectors = hashes(true);
  expect(hashes(false)).toEqual(vectors);
  expect(vectors.filter((line) => !line.includes(" light "))).toEqual(KEPT);
  expect(new Set(vectors.map((line) => line.split(" ")[2])).size).toBe(vectors.length);
});

it("the hash is SHA-256", () => {
  for (const length of [0, 1, 55, 56, 64, 1000]) {
    const bytes = Uint8Array.from({ length }, (_, i) => i * 7);
    expect(sha256(bytes)).toBe(createHash("sha256").update(bytes).digest("hex"));
  }
});
