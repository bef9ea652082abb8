import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** Root of the checkout, with a slash at its end. */
export const root = fileURLToPath(new URL("../../", import.meta.url));

/** Names of the files that belong to the project (kept by git, or new and not ignored), relative to the root. */
export function projectFiles(): readonly string[] {
  const answer = execFileSync("git", ["ls-files", "-z", "--cached", "--others", "--exclude-standard"], {
    cwd: root,
    encoding: "utf8",
    maxBuffer: 64 * 1024 * 1024,
  });
  return answer.split("\0").filter((name) => name !== "" && existsSync(root + name));
}

/** Text of a file of the project. */
export function textOf(name: string): string {
  return readFileSync(root + name, "utf8");
}
