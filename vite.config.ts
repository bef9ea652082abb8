import solid from "vite-plugin-solid";
import { defineConfig } from "vite";

/** Builds the browser door; scripts/build.mjs builds the Node side with its own settings. */
export default defineConfig({
  root: "src/web",
  base: "./",
  plugins: [solid()],
  worker: { format: "es" },
  build: {
    outDir: "../../dist/web",
    emptyOutDir: true,
    target: "es2023",
    sourcemap: false,
    chunkSizeWarningLimit: 400,
    // Where the build's own seconds go is no news to whoever starts the program.
    rolldownOptions: { checks: { bundlerTimings: false } },
  },
});
