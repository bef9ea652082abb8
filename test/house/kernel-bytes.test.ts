/** The committed bytes of the WebAssembly kernels are what their sources give. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";

it("the kernels' bytes are built from their sources", () => {
  const script = join(import.meta.dirname, "../../scripts/build-kernel.mjs");
  expect(execFileSync(process.execPath, [script, "--check"], { encoding: "utf8" })).toBe("");
});
