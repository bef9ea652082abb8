/** Pictures of something else, black, white, cut short or far too large: the page says why in one sentence, as the command line does. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it, onTestFinished } from "vitest";
import { command } from "../../src/cli/testing/command.ts";
import { encodePng } from "../../src/picture/index.ts";
import type { JsonObject } from "../../src/setup/index.ts";
import { openForEachTest, page } from "./page-tests.ts";

const demo = JSON.parse(
  readFileSync(fileURLToPath(new URL("../../examples/blue-twins.json", import.meta.url)), "utf8"),
) as JsonObject;
/** The demonstration's field of view on fewer pixels. */
const SENSOR = { pixel: "9.6 um", columns: 320, rows: 200 };

openForEachTest();

describe("what is no such picture", () => {
  it("is refused on the page in one clear sentence each, as on the command line", async () => {
    const folder = mkdtempSync(join(tmpdir(), "crossprism-refused-"));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const setup = join(folder, "setup.json");
    writeFileSync(
      setup,
      JSON.stringify({ ...demo, camera: { ...(demo["camera"] as JsonObject), ...SENSOR } }),
    );
    await page.locator("input[type=file][accept*=json]").first().setInputFiles(setup);
    await page.getByRole("button", { name: "Measure", exact: true }).click();
    const size = { columns: 320, rows: 200, channels: 1, depth: 16 } as const;
    const painted = (at: (column: number, row: number) => number): Uint8Array =>
      encodePng({
        ...size,
        samples: Uint16Array.from({ length: 64_000 }, (_, i) => at(i % 320, Math.floor(i / 320))),
      });
    const whole = Buffer.from(painted((_c, r) => 600 + ((r * 7919) % 101)));
    const huge = Buffer.from(whole);
    huge.writeUInt32BE(20_000, 16);
    huge.writeUInt32BE(20_000, 20);
    const files: Readonly<Record<string, { readonly bytes: Uint8Array; readonly sentence: RegExp }>> = {
      "moon.png": {
        bytes: painted((c, r) => 50_000 * Math.exp(-((c - 160) ** 2 + (r - 100) ** 2) / 900)),
        sentence:
          /^hot: expected a picture with at least one dark gap of the element's lines, received a line without dark gaps; /,
      },
      "black.png": {
        bytes: painted(() => 0),
        sentence: /^hot: expected a crossed-prism picture .*, received a picture without any light in it\.$/,
      },
      "white.png": {
        bytes: painted(() => 65_535),
        sentence:
          /^hot: expected a crossed-prism picture .*, received a picture equally bright everywhere\.$/,
      },
      "half.png": {
        bytes: whole.subarray(0, whole.length >> 1),
        sentence: /^half\.png: expected .*, received .*\.$/,
      },
      "huge.png": { bytes: huge, sentence: /^huge\.png: expected .*, received .*20000 × 20000 pixels.*\.$/ },
    };
    const fault = page.locator(".wells .fault");
    for (const [name, { bytes, sentence }] of Object.entries(files)) {
      const path = join(folder, name);
      writeFileSync(path, bytes);
      await page.getByLabel(/^hot picture/).setInputFiles(path);
      await page.getByRole("button", { name: "read it" }).click();
      await page.waitForSelector(".measure[aria-busy=false]", { timeout: 60_000 });
      await expect
        .poll(() => fault.allTextContents(), { timeout: 60_000, message: name })
        .toEqual([expect.stringMatching(sentence)]);
      expect((await command("read", path, "--setup", setup, "--json")).code, name).toBe(2);
    }
    expect(await page.locator(".measure .fitted").count()).toBe(0);
  }, 120_000);
});
