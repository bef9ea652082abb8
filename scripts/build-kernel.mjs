/**
 * Builds src/numerics/wasm/kernel.as (AssemblyScript) into src/numerics/wasm/kernel-bytes.ts.
 *
 *   node scripts/build-kernel.mjs           writes the file
 *   node scripts/build-kernel.mjs --check   compares only; exit 1 where the committed bytes are not what the source gives
 */
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import asc from "assemblyscript/asc";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const target = join(root, "src/numerics/wasm/kernel-bytes.ts");

/** Text of kernel-bytes.ts for the present source. */
export async function buildKernel() {
  // The source keeps its own file name, so that no other compiler takes it for its own; in memory it is kernel.ts.
  const source = readFileSync(join(root, "src/numerics/wasm/kernel.as"), "utf8");
  const made = { bytes: /** @type {Uint8Array} */ (new Uint8Array()) };
  const options = [
    "--outFile",
    "kernel.wasm",
    "--runtime",
    "stub",
    "--enable",
    "simd",
    "-O3",
    "--noAssert",
    "--use",
    "abort=",
  ];
  const { error, stderr } = await asc.main(["kernel.ts", ...options], {
    readFile: (name) => (name === "kernel.ts" ? source : null),
    writeFile: (name, data) => {
      if (name === "kernel.wasm" && typeof data !== "string") made.bytes = data;
    },
    listFiles: () => [],
  });
  if (error) throw new Error(`${error.message}\n${stderr.toString()}`);
  const lines = (
    Buffer.from(made.bytes)
      .toString("base64")
      .match(/.{1,104}/g) ?? []
  ).map((line) => `  "${line}",`);
  return `/** Bytes of kernel.as, base64. Written by scripts/build-kernel.mjs; do not edit. */\nexport const KERNEL = [\n${lines.join("\n")}\n].join("");\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const built = await buildKernel();
  if (!process.argv.includes("--check")) writeFileSync(target, built);
  else if (readFileSync(target, "utf8") !== built) {
    process.stderr.write("kernel-bytes.ts is not what kernel.as gives: run node scripts/build-kernel.mjs\n");
    process.exitCode = 1;
  }
}
