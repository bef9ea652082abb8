import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { browsers, launch, start } from "./find-browser.ts";

const folder = mkdtempSync(join(tmpdir(), "find-browser-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const packs = process.platform === "linux" && process.arch === "x64";

function program(name: string, script = ""): string {
  const path = join(folder, name);
  writeFileSync(path, script, { mode: 0o755 });
  return path;
}

describe("browsers", () => {
  it("takes the program that CHROMIUM_PATH names and no other", () => {
    const path = program("some-browser");
    expect([...browsers({ CHROMIUM_PATH: path })]).toEqual([{ path, origin: "named by CHROMIUM_PATH" }]);
  });

  it("refuses a CHROMIUM_PATH that cannot be run, in one sentence that shows it", () => {
    expect(() => [...browsers({ CHROMIUM_PATH: join(folder, "nothing") })]).toThrow(
      /^CHROMIUM_PATH: expected .* received .*nothing\.$/,
    );
  });

  it("finds an installed browser along PATH", { skip: process.platform !== "linux" }, () => {
    const path = program("chromium");
    const [first] = browsers({ PATH: folder });
    expect(first?.path).toBe(path);
  });
});

describe("start", () => {
  it("starts a browser that runs a page's script", async () => {
    const browser = await launch();
    try {
      const page = await browser.newPage();
      expect(await page.evaluate(() => [1, 2, 3].map((x) => x * x).join())).toBe("1,4,9");
    } finally {
      await browser.close();
    }
  });

  it("starts the packed browser", { skip: !packs }, async () => {
    const { browser, found } = await start({ CROSSPRISM_BROWSER: "packed" });
    await browser.close();
    expect(found.origin).toContain("npm package");
  });

  it("names what it tried when nothing comes up, and what to do", {
    skip: process.platform === "win32",
  }, async () => {
    const path = program("broken-browser", "#!/bin/sh\nexit 1\n");
    await expect(start({ CHROMIUM_PATH: path })).rejects.toThrow(
      /^No browser to test in came up \(tried .*broken-browser\): install Chromium.*\.$/,
    );
  });
});
