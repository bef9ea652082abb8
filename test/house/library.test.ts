import { execFileSync } from "node:child_process";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { isPromised } from "./command-line.ts";
import { fences } from "./markdown.ts";
import { projectFiles, root, textOf } from "./tree.ts";

const programs = projectFiles()
  .filter((name) => name.endsWith(".md"))
  .flatMap((name) =>
    fences(textOf(name)).map((fence, index, all) => ({
      place: `${name}:${fence.line}`,
      fence,
      next: all[index + 1],
    })),
  )
  .filter(({ fence }) => fence.info[0] === "ts" && fence.info.includes("run"))
  .map(({ place, fence, next }, index) => ({
    place,
    file: `${root}dist/.docs/${index}.mts`,
    text: fence.lines.join("\n"),
    promise: next?.info[0] === "text" ? next.lines : undefined,
  }));

/** Programs in the documents import the library by its public name, so they must lie inside the package to find it. */
describe("programs that the documents show", () => {
  beforeAll(() => {
    mkdirSync(`${root}dist/.docs`, { recursive: true });
    for (const { file, text } of programs) writeFileSync(file, `${text}\n`);
  });
  afterAll(() => {
    rmSync(`${root}dist/.docs`, { recursive: true, force: true });
  });

  it("are there", () => {
    expect(programs.length).toBeGreaterThan(0);
  });

  it("fit the declarations that the package ships, as a strict Node.js project sees them", () => {
    const tsc = createRequire(import.meta.url).resolve("typescript/bin/tsc");
    const settings = [
      "--noEmit",
      "--ignoreConfig",
      "--strict",
      "--skipLibCheck",
      "false",
      "--module",
      "nodenext",
      "--target",
      "es2023",
      "--types",
      "node",
    ];
    let faults = "";
    try {
      execFileSync(process.execPath, [tsc, ...settings, ...programs.map(({ file }) => file)], {
        cwd: root,
        encoding: "utf8",
      });
    } catch (error) {
      faults = String((error as { stdout?: unknown }).stdout);
    }
    expect(faults).toBe("");
  });

  it.each(programs)("$place runs and prints what it promises", ({ file, promise }) => {
    const printed = execFileSync(process.execPath, ["--import", "tsx", file], {
      cwd: root,
      encoding: "utf8",
    });
    expect(printed.trim()).not.toBe("");
    expect(printed).not.toMatch(/NaN|undefined/);
    if (promise !== undefined) expect(isPromised(printed, promise), printed).toBe(true);
  });
});
