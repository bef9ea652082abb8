import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "./tree.ts";

/** Runs a script of the house as a person would. */
function script(
  name: string,
  ...args: readonly string[]
): { status: number | null; stdout: string; stderr: string } {
  return spawnSync(process.execPath, [`${root}scripts/${name}.mjs`, ...args], {
    cwd: root,
    encoding: "utf8",
  });
}

/** Runs a piece of module code that may import from scripts/lib/. */
function code(text: string): string {
  const answer = spawnSync(process.execPath, ["--input-type=module", "-e", text], {
    cwd: root,
    encoding: "utf8",
  });
  expect(answer.stderr).toBe("");
  return answer.stdout.trim();
}

const lib = (name: string): string =>
  JSON.stringify(new URL(`../../scripts/lib/${name}.mjs`, import.meta.url).href);

describe("scripts refuse words they do not know, with exit code 2 and one sentence", () => {
  it.each([
    ["build", ["wbe"], "build: expected one of node, web, types, received wbe.\n"],
    [
      "test",
      ["--only", "units"],
      "test: expected nothing or --only lint, unit or browser, received --only units.\n",
    ],
    ["bench", ["no-such-bench"], /^bench: expected one of .*, received no-such-bench\.\n$/],
  ] as const)("%s", (name, args, sentence) => {
    const { status, stdout, stderr } = script(name, ...args);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    if (typeof sentence === "string") expect(stderr).toBe(sentence);
    else expect(stderr).toMatch(sentence);
  });
});

describe("what tells whether something must be installed or built again", () => {
  it("finds the dependencies of this very run installed", () => {
    expect(code(`import { isInstalled } from ${lib("ready")}; console.log(isInstalled());`)).toBe("true");
  });

  it("gives each part of dist/ a hash of its own that stays while nothing changes", () => {
    const text = `import { fingerprint, parts } from ${lib("fingerprint")};
      console.log(parts.map(fingerprint).join() === parts.map(fingerprint).join(), new Set(parts.map(fingerprint)).size);`;
    expect(code(text)).toBe("true 3");
  });
});

describe("the lock under which dist/ is built", () => {
  it("lets one process in at a time", () => {
    const folder = mkdtempSync(join(tmpdir(), "crossprism-lock-"));
    const log = JSON.stringify(join(folder, "log"));
    const worker = `import { alone } from ${lib("lock")}; import { appendFileSync } from "node:fs"; import { setTimeout as wait } from "node:timers/promises";
      await alone(async () => { appendFileSync(${log}, "in "); await wait(150); appendFileSync(${log}, "out "); });`;
    const text = `import { spawn } from "node:child_process"; import { readFileSync } from "node:fs"; import { once } from "node:events";
      const all = Array.from({ length: 3 }, () => spawn(process.execPath, ["--input-type=module", "-e", ${JSON.stringify(worker)}], { stdio: "inherit" }));
      await Promise.all(all.map((child) => once(child, "close")));
      console.log(readFileSync(${log}, "utf8"));`;
    try {
      expect(code(text)).toBe("in out in out in out");
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
