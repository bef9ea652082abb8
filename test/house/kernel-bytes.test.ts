/** The committed bytes of the WebAssembly kernel are what its source gives. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";

it("kernel-bytes.ts is built from kernel.as", () => {
  const script = join(import.meta.dirname, "../../scripts/build-kernel.mjs");
  expect(execFileSync(process.execPath, [script, "--check"], { encoding: "utf8" })).toBe("");
});
