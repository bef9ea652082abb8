/** One seed, one picture: light, pictures and PNG files of four examples have the bytes kept here, by both ways of laying light down. The browser's test asks Chromium for the same. */
import { createHash } from "node:crypto";
import { expect, it } from "vitest";
import kept from "./same-bytes.json" with { type: "json" };
import { hashes } from "./same-bytes-job.ts";
import { sha256 } from "./sha256.ts";

it("light, samples and files have the kept SHA-256, with and without WebAssembly", () => {
  expect(hashes(true)).toEqual(kept);
  expect(hashes(false)).toEqual(kept);
  expect(new Set(kept.map((line) => line.split(" ")[2])).size).toBe(kept.length);
});

it("the hash is SHA-256", () => {
  for (const length of [0, 1, 55, 56, 64, 1000]) {
    const bytes = Uint8Array.from({ length }, (_, i) => i * 7);
    expect(sha256(bytes)).toBe(createHash("sha256").update(bytes).digest("hex"));
  }
});
