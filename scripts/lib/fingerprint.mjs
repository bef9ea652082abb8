import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { relative, sep } from "node:path";
import { at, root } from "./paths.mjs";

/** What each part of dist/ is made from: folders and files, and source folders that do not matter to it. */
const inputs = {
  node: { take: ["src", "data", "examples"], leave: ["src/web"] },
  web: {
    take: ["src", "data", "examples", "vite.config.ts", "scripts/lib/page-data.ts"],
    leave: ["src/cli", "src/server"],
  },
  types: {
    take: ["src", "tsconfig.json", "tsconfig.build.json"],
    leave: ["src/cli", "src/server", "src/web"],
  },
};

/** @typedef {keyof typeof inputs} Part */

/** @type {readonly Part[]} */
export const parts = ["node", "web", "types"];

const always = ["package.json", "package-lock.json", "scripts/build.mjs", "scripts/lib/fingerprint.mjs"];

/**
 * A hash that changes when anything that goes into a part of dist/ changes: names and contents, never dates,
 * so that a fresh clone and the tree it came from agree.
 *
 * @param {Part} part
 * @returns {string} hexadecimal SHA-256
 */
export function fingerprint(part) {
  const { take, leave } = inputs[part];
  const hash = createHash("sha256");
  for (const path of [...always, ...take]) {
    for (const file of filesBelow(at(path))) {
      const name = relative(root, file).split(sep).join("/");
      if (/\.test\.tsx?$/.test(name) || leave.some((folder) => name.startsWith(`${folder}/`))) continue;
      hash.update(name).update("\0").update(readFileSync(file)).update("\0");
    }
  }
  return hash.digest("hex");
}

/** @param {string} path @returns {string[]} */
function filesBelow(path) {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesBelow(`${path}/${name}`));
}

/** Hashes of what dist/ was last built from; a part never built is absent. @returns {Partial<Record<Part, string>>} */
export function builtFrom() {
  try {
    return JSON.parse(readFileSync(at("dist", ".hash"), "utf8"));
  } catch {
    return {};
  }
}

/** Parts among those asked for whose built files are missing or older than their sources. @param {readonly Part[]} asked */
export function staleParts(asked) {
  const built = builtFrom();
  return asked.filter((part) => {
    if (part === "web" && !existsSync(at("src/web/index.html"))) return false;
    return !existsSync(at("dist", part)) || built[part] !== fingerprint(part);
  });
}
