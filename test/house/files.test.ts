import { execFileSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { projectFiles, textOf } from "./tree.ts";

const binary = /\.(?:png|jpe?g|gif|ico|woff2?|tiff?|fits?|wasm|npy|gz)$/i;
const texts = projectFiles().filter((name) => !binary.test(name));

/** Every line of the project's texts that matches, as "file:line: text". */
function linesMatching(pattern: RegExp, names: readonly string[] = texts): readonly string[] {
  return names.flatMap((name) =>
    textOf(name)
      .split("\n")
      .flatMap((line, index) =>
        pattern.test(line) ? [`${name}:${index + 1}: ${line.trim().slice(0, 160)}`] : [],
      ),
  );
}

describe("what the project's files may not hold", () => {
  it("paths of one machine", () => {
    // Written so that this line does not match itself.
    expect(linesMatching(/(?<![\w.~-])\/(?:work|root|home\/[a-z]+|Users\/[A-Za-z]+)\//)).toEqual([]);
  });

  it("hosts of package registries", () => {
    const usual = /registry\.(?:npmjs|yarnpkg)\.|npm\.pkg\.github/;
    const here = execFileSync("npm", ["config", "get", "registry"], {
      encoding: "utf8",
      shell: process.platform === "win32",
    });
    const host = URL.canParse(here.trim()) ? new URL(here.trim()).host : "";
    const others = texts.filter((name) => name !== "test/house/files.test.ts");
    expect(linesMatching(usual, others)).toEqual([]);
    if (host !== "") expect(others.filter((name) => textOf(name).includes(host))).toEqual([]);
  });

  it("download addresses in the lock file", () => {
    const { packages } = JSON.parse(textOf("package-lock.json")) as {
      packages: Record<string, { resolved?: string }>;
    };
    expect(Object.keys(packages).length).toBeGreaterThan(100);
    expect(Object.entries(packages).filter(([, entry]) => entry.resolved !== undefined)).toEqual([]);
  });

  it("loose version ranges in package.json", () => {
    const { dependencies, devDependencies } = JSON.parse(textOf("package.json")) as Record<
      string,
      Record<string, string>
    >;
    const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(
      ([, version]) => !/^\d+\.\d+\.\d+$/.test(version),
    );
    expect(loose).toEqual([]);
  });

  it("signs of an unfinished merge or a forgotten piece of work", () => {
    expect(
      linesMatching(
        /^(?:<{7}|>{7}) |\b(?:TODO|FIXME|XXX)\b/,
        texts.filter((name) => name !== "test/house/files.test.ts"),
      ),
    ).toEqual([]);
  });
});
