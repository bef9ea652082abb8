/**
 * Builds the kernels' AssemblyScript into files of their bytes.
 *
 *   node scripts/build-kernel.mjs           writes the files
 *   node scripts/build-kernel.mjs --check   compares only; exit 1 where the committed bytes are not what the sources give
 */
import { readFileSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import asc from "assemblyscript/asc";

const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Source, file of its bytes, and the name under which they are exported. */
const kernels = [
  { source: "src/numerics/wasm/kernel.as", target: "src/numerics/wasm/kernel-bytes.ts", name: "KERNEL" },
  { source: "src/path/wasm/bend.as", target: "src/path/wasm/bend-bytes.ts", name: "BEND" },
  { source: "src/picture/wasm/paint.as", target: "src/picture/wasm/paint-bytes.ts", name: "PAINT" },
  { source: "src/reading/wasm/slopes.as", target: "src/reading/wasm/slopes-bytes.ts", name: "SLOPES" },
];

/**
 * Text of the file of bytes for the present source.
 *
 * @param {{ source: string, name: string }} kernel
 */
async function built({ source, name }) {
  // The source keeps its own file name, so that no other compiler takes it for its own; in memory it is kernel.ts.
  const text = readFileSync(join(root, source), "utf8");
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
    readFile: (file) => (file === "kernel.ts" ? text : null),
    writeFile: (file, data) => {
      if (file === "kernel.wasm" && typeof data !== "string") made.bytes = data;
    },
    listFiles: () => [],
  });
  if (error) throw new Error(`${source}: ${error.message}\n${stderr.toString()}`);
  const lines = (
    Buffer.from(made.bytes)
      .toString("hex")
      .match(/.{1,104}/g) ?? []
  ).map((line) => `  "${line}"`);
  return `/** Bytes of ${basename(source)}, two hexadecimal digits each: they pack better than base64, whose steps of six bits hide what repeats. Written by scripts/build-kernel.mjs; do not edit. */\nexport const ${name} =\n${lines.join(" +\n")};\n`;
}

for (const kernel of kernels) {
  const text = await built(kernel);
  const target = join(root, kernel.target);
  if (!process.argv.includes("--check")) writeFileSync(target, text);
  else if (readFileSync(target, "utf8") !== text) {
    process.stderr.write(
      `${kernel.target} is not what ${kernel.source} gives: run node scripts/build-kernel.mjs\n`,
    );
    process.exitCode = 1;
  }
}
