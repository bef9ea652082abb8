import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { commandLines, crossprismArguments, isPromised, words } from "./command-line.ts";
import { type Fence, fences } from "./markdown.ts";
import { projectFiles, root, textOf } from "./tree.ts";

const program = join(root, "bin/crossprism.js");
const pages = new Map<string, string>();

/** What `crossprism COMMAND --help` prints; asked once for each command. */
function help(...command: readonly string[]): string {
  const name = command.join(" ");
  const page =
    pages.get(name) ?? execFileSync(process.execPath, [program, ...command, "--help"], { encoding: "utf8" });
  pages.set(name, page);
  return page;
}

const known = new Set([...help().matchAll(/^ {2}([a-z]+)\b/gm)].map((match) => match[1]));

/** A command and the commands within it that a line names, such as "notebook add setup". */
function commandsOf(command: string, rest: readonly string[]): readonly string[] {
  const path = [command];
  for (const word of rest) {
    const inner = help(...path).split("\nCommands:\n")[1] ?? "";
    if (!new RegExp(`^ {2}${word.replace(/[^a-z]/g, "\\$&")}\\b`, "m").test(inner)) break;
    path.push(word);
  }
  return path;
}

interface Shown {
  readonly place: string;
  readonly line: string;
}

const blocks = projectFiles()
  .filter((name) => name.endsWith(".md"))
  .flatMap((name) => fences(textOf(name)).map((fence, index, all) => ({ name, fence, next: all[index + 1] })))
  .filter(({ fence }) => fence.info[0] === "sh");
const shown: readonly Shown[] = blocks.flatMap(({ name, fence }) =>
  commandLines(fence).map((line) => ({ place: `${name}:${fence.line}`, line })),
);

describe("commands that the documents show", () => {
  const calls = shown.filter(({ line }) => crossprismArguments(line) !== undefined);

  it("are there", () => {
    expect(calls.length).toBeGreaterThan(5);
  });

  it.each(calls)("$place  $line  names a command, options and files that exist", ({ line }) => {
    const [command = "", ...rest] = crossprismArguments(line) ?? [];
    if (command.startsWith("-")) return;
    expect(known).toContain(command);
    const text = help(...commandsOf(command, rest));
    const options = rest.filter((word) => /^--?[a-z]/.test(word));
    expect(options.filter((option) => !new RegExp(`(?:^|[\\s,])${option}\\b`).test(text))).toEqual([]);
    expect(rest.filter((word) => /^(?:examples|docs|data)\//.test(word) && !existsSync(root + word))).toEqual(
      [],
    );
  });

  it("call only scripts that package.json has", () => {
    const { scripts } = JSON.parse(textOf("package.json")) as { scripts: Record<string, string> };
    const unknown = shown.filter(({ line }) => {
      const [first, verb = "", name = ""] = words(line);
      if (first !== "npm" || ["ci", "install"].includes(verb)) return false;
      return !((verb === "run" ? name : verb) in scripts);
    });
    expect(unknown).toEqual([]);
  });
});

describe("commands that the documents run", () => {
  const folder = mkdtempSync(join(tmpdir(), "crossprism-docs-"));
  for (const name of ["examples", "docs", "data"]) symlinkSync(root + name, join(folder, name), "junction");
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  const marked = blocks.filter(({ fence }) => fence.info.includes("run"));

  it("are there", () => {
    expect(marked.length).toBeGreaterThan(0);
  });

  it.each(marked.map((block) => ({ ...block, place: `${block.name}:${block.fence.line}` })))(
    "$place prints what it promises",
    ({ fence, next }) => {
      let printed = "";
      for (const line of commandLines(fence)) {
        const answer = spawnSync(process.execPath, [program, ...(crossprismArguments(line) ?? [])], {
          cwd: folder,
          encoding: "utf8",
        });
        expect(answer.status, answer.stderr).toBe(0);
        printed += answer.stdout;
      }
      const promise = promiseOf(next);
      expect(isPromised(printed, promise), `printed:\n${printed}\npromised:\n${promise.join("\n")}`).toBe(
        true,
      );
    },
  );
});

/** The block after a block that is run holds what it prints. */
function promiseOf(next: Fence | undefined): readonly string[] {
  if (next === undefined || !["text", "json"].includes(next.info[0] ?? "")) {
    throw new Error("a block marked sh run needs a block of text or json after it: what it prints");
  }
  return next.lines;
}

describe("the reader of command lines that the checks rest on", () => {
  it("joins continued lines and drops prompts and comments", () => {
    const fence = { info: ["sh"], line: 1, lines: ["$ a b \\", "   c", "# nothing", "d # why", ""] };
    expect(commandLines(fence)).toEqual(["a b c", "d"]);
  });

  it("holds quoted words together", () => {
    expect(words(`index --at "766.2 nm" 'x y' --set a="b c"`)).toEqual([
      "index",
      "--at",
      "766.2 nm",
      "x y",
      "--set",
      "a=b c",
    ]);
  });

  it("compares all but what an ellipsis leaves open", () => {
    expect(isPromised("a 1\nb\nc\nd\n", ["a …", "…", "d"])).toBe(true);
    expect(isPromised("a 1\nb\n", ["a 2", "b"])).toBe(false);
    expect(isPromised("a\nb\n", ["a"])).toBe(false);
    expect(isPromised("a.c", ["abc"])).toBe(false);
    expect(isPromised("450\u202fK\r\n", ["450 K"])).toBe(true);
  });
});
