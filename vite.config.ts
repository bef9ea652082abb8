import { basename, dirname, resolve } from "node:path";
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

/**
 * Makes the worker of the first picture a chunk of the page's own graph: what both need is then fetched once. By
 * itself the build gives each worker a whole copy, which for the other workers, started later, is the simpler way.
 */
function workerAmongChunks(): Plugin {
  const WORKER = /new URL\(\s*"(\.[\w./-]*\/foresee-worker\.ts)"\s*,\s*import\.meta\.url\s*\)/g;
  return {
    name: "worker-among-chunks",
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      if (!code.includes("foresee-worker.ts")) return null;
      const changed = code.replace(WORKER, (_, path: string) => {
        const file = resolve(dirname(id), path);
        const chunk = this.emitFile({ type: "chunk", id: file, name: basename(file, ".ts") });
        return `import.meta.ROLLUP_FILE_URL_${chunk}`;
      });
      return { code: changed, map: null };
    },
  };
}

/** What the page needs, before any picture, of the rooms that its worker computes with. */
const GROUND =
  /\/src\/(quantity\/|setup\/(fields|choices|field-kinds)|path\/bench-elements|numerics\/elementary\/(trig|quarter-turns|doubles)|web\/figure\/(scale|ticks)|web\/words\/number).*\.ts$|preload-helper/;
/** What only a tube with a heater asks for: fetched when one is opened. */
const HEATER =
  /\/src\/(vessel\/(shell|shell-loss|shell-parts|shell-check|steady-shell|warm-up)|setup\/examine)\.ts$/;
/** What only a heated tube and the findings look up. */
const MATERIALS = /\/(vessel\/(materials|shell-warnings)\.ts|data\/materials\.json)$/;
/** What is drawn around the picture when it stands. */
const DRAWN = /\/src\/web\/(drawn\.ts|(bench|figure)\/(?!scale|ticks|size|choice|cursor-handle)[^?]*\.tsx?)$/;
/** What else several chunks share. */
const MATTER =
  /\/(src\/(?!picture\/fates)(reference|numerics|medium|vessel|path|picture|setup)|data(?!\/sight))\/[^?]*$/;

/** Builds the browser door; scripts/build.mjs builds the Node side with its own settings. */
export default defineConfig({
  root: "src/web",
  base: "./",
  plugins: [workerAmongChunks(), solid(), pageData(), fieldWords(withoutSentences), listOfFiles()],
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
    modulePreload: {
      // Every browser of that target preloads modules by itself.
      polyfill: false,
      // A worker has no document to write a preload into.
      resolveDependencies: (_, files, { hostId }) => (hostId.includes("foresee-worker") ? [] : files),
    },
    chunkSizeWarningLimit: 400,
    // Where the build's own seconds go is no news to whoever starts the program.
    rolldownOptions: {
      checks: { bundlerTimings: false },
      input: { index: "src/web/index.html", offline: "src/web/offline/worker.ts" },
      output: {
        // Few chunks pack better than many.
        codeSplitting: {
          includeDependenciesRecursively: false,
          groups: [
            { name: "ground", test: GROUND, priority: 2 },
            { name: "heater", test: HEATER, priority: 1 },
            { name: "materials", test: MATERIALS, priority: 1 },
            { name: "drawn", test: DRAWN, priority: 1 },
            { name: "matter", test: MATTER, minShareCount: 2 },
          ],
        },
        // Its address must stay, and the folder it lies in is what it may keep.
        entryFileNames: ({ name }) => (name === "offline" ? "offline.js" : "assets/[name]-[hash].js"),
      },
    },
  },
});
