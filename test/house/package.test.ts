import { execFileSync } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { root, textOf } from "./tree.ts";

interface Door {
  readonly types: string;
  readonly default: string;
}

const { exports, bin } = JSON.parse(textOf("package.json")) as {
  exports: Record<string, Door | string>;
  bin: Record<string, string>;
};
const doors = Object.entries(exports).filter(
  (entry): entry is [string, Door] => typeof entry[1] === "object",
);

describe("the package as others import it", () => {
  it("has one door for the whole and one for each room", () => {
    const closed = ["cli", "server", "web"];
    const rooms = readdirSync(`${root}src`).filter(
      (name) => existsSync(`${root}src/${name}/index.ts`) && !closed.includes(name),
    );
    expect(doors.map(([name]) => name).sort()).toEqual([".", ...rooms.map((name) => `./${name}`)].sort());
  });

  it.each(doors)("%s is built, with declarations, and opens", (name, door) => {
    expect(existsSync(root + door.types)).toBe(true);
    // In a process of its own and by its public name, as another program would.
    const address = `crossprism${name.slice(1)}`;
    const script = `import(${JSON.stringify(address)}).then((room) => console.log(Object.keys(room).length))`;
    expect(
      Number(execFileSync(process.execPath, ["-e", script], { cwd: root, encoding: "utf8" })),
    ).toBeGreaterThan(0);
  });

  it("starts its command with the version of package.json", () => {
    const { version } = JSON.parse(textOf("package.json")) as { version: string };
    const printed = execFileSync(process.execPath, [root + (bin["crossprism"] ?? ""), "--version"], {
      encoding: "utf8",
    });
    expect(printed.trim()).toBe(version);
    expect(textOf("CHANGELOG.md")).toContain(`## ${version}`);
  });
});
