import { defineConfig } from "vitest/config";

/** Tests that drive the built page in a real browser; one file at a time, since they share two cores with it. */
export default defineConfig({
  test: {
    include: ["test/browser/**/*.test.ts"],
    globalSetup: ["test/browser/global-setup.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    fileParallelism: false,
    pool: "forks",
  },
});
