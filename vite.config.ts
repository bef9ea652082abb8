import solid from "vite-plugin-solid";
import { defineConfig, type Plugin } from "vite";
import { pageData } from "./scripts/lib/page-data.ts";
import { fieldWords, withoutSentences, withoutWords } from "./scripts/lib/field-words.ts";

/** Lists every file of the page, so that the browser can keep them all for times without a server. */
function listOfFiles(): Plugin {
  return {
    name: "list-of-files",
    apply: "build",
    generateBundle(_, bundle) {
      const files = Object.keys(bundle).filter((name) => name.startsWith("assets/"));
      this.emitFile({ type: "asset", fileName: "files.json", source: JSON.stringify(files.sort()) });
    },
  };
}

/** Builds the browser door; scripts/build.mjs builds the Node side with its own settings. */
export default defineConfig({
  root: "src/web",
  base: "./",
  plugins: [solid(), pageData(), fieldWords(withoutSentences), listOfFiles()],
  worker: {
    format: "es",
    plugins: () => [pageData(), fieldWords(withoutWords)],
    // What two chunks of a worker share is one chunk: it packs better than a handful.
    rolldownOptions: { output: { codeSplitting: { groups: [{ name: "shared", minShareCount: 2 }] } } },
  },
  build: {
    outDir: "../../dist/web",
    emptyOutDir: true,
    target: "es2023",
    sourcemap: false,
    // Every browser of that target preloads modules by itself.
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 400,
    // Where the build's own seconds go is no news to whoever starts the program.
    rolldownOptions: {
      checks: { bundlerTimings: false },
      input: { index: "src/web/index.html", offline: "src/web/offline/worker.ts" },
      // Its address must stay, and the folder it lies in is what it may keep.
      output: {
        entryFileNames: ({ name }) => (name === "offline" ? "offline.js" : "assets/[name]-[hash].js"),
      },
    },
  },
});
