/** One seed, one picture, in Chromium too: the same light, pictures and files as in Node.js, bit for bit. */
import { build } from "vite";
import { expect, it } from "vitest";
import kept from "../chain/same-bytes.json" with { type: "json" };
import { root } from "../house/tree.ts";
import { openForEachTest, page } from "./page-tests.ts";

openForEachTest();

it("light, samples and files have the kept SHA-256, with and without WebAssembly", async () => {
  const built = await build({
    configFile: false,
    logLevel: "silent",
    build: {
      write: false,
      lib: { entry: `${root}test/chain/same-bytes-job.ts`, formats: ["iife"], name: "job" },
    },
  });
  const [first] = [built].flat();
  if (first === undefined || !("output" in first)) throw new Error("nothing was built");
  const text = first.output[0].code;
  const made = await page.evaluate<string[][]>(
    `(() => { ${text}; return [job.hashes(true), job.hashes(false)]; })()`,
  );
  expect(made).toEqual([kept, kept]);
});
