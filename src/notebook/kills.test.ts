import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { killWriters } from "../../bench/lib/notebook-kills.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "notebook-kills-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

// Some of the thousand kills of bench/campaign/notebook-kills.ts; what is killed is the built program.
it("a notebook loses no acknowledged entry when its writers are killed", async () => {
  const counted = await killWriters({
    kills: 10,
    seed: 20,
    folder,
    built: at("../../dist/node"),
    each: 5,
    old: at("../../test/outside/fixtures/notebook/v1"),
  });
  expect(counted.faults).toEqual([]);
  expect(counted.kills).toBe(10);
  expect(counted.double).toBeGreaterThan(0);
  expect(Math.min(...Object.values(counted.doors))).toBeGreaterThan(0);
  expect(counted.acknowledged).toBeGreaterThan(10);
}, 300_000);
