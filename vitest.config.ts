import solid from "vite-plugin-solid";
import { defineConfig } from "vitest/config";

export default defineConfig({
  plugins: [solid({ ssr: false })],
  test: {
    include: ["src/**/*.test.ts", "src/**/*.test.tsx", "test/**/*.test.ts"],
    exclude: ["test/browser/**"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    pool: "forks",
  },
});
