import solid from "vite-plugin-solid";
import { defineConfig } from "vitest/config";

const shared = { testTimeout: 60_000, hookTimeout: 60_000, pool: "forks" } as const;

/** Tests in two worlds: the page's in a simulated document, all others in plain Node. Browser tests have a file of their own. */
export default defineConfig({
  test: {
    // By default one core is left free, which on two is half of the machine.
    maxWorkers: "100%",
    projects: [
      {
        test: {
          ...shared,
          name: "node",
          environment: "node",
          include: ["src/**/*.test.ts", "test/**/*.test.ts"],
          exclude: ["src/web/**", "test/browser/**"],
        },
      },
      {
        plugins: [solid({ ssr: false })],
        test: {
          ...shared,
          name: "page",
          environment: "jsdom",
          include: ["src/web/**/*.test.ts", "src/web/**/*.test.tsx"],
        },
      },
    ],
    coverage: { provider: "v8", include: ["src/**"], reporter: ["text-summary", "html"] },
  },
});
