import { existsSync, readFileSync } from "node:fs";
import { staleParts } from "./fingerprint.mjs";
import { at } from "./paths.mjs";
import { run } from "./run.mjs";

/** Ends the program with one sentence for a person. @param {string} sentence @param {number} [code] @returns {never} */
export function stop(sentence, code = 1) {
  process.stderr.write(`${sentence}\n`);
  process.exit(code);
}

/** Stops on a Node.js that is too old for the program. */
export function requireNode() {
  const wanted = JSON.parse(readFileSync(at("package.json"), "utf8")).engines.node.replace(">=", "");
  const [major, minor] = process.versions.node.split(".").map(Number);
  const [needMajor, needMinor] = wanted.split(".").map(Number);
  if (major < needMajor || (major === needMajor && minor < needMinor)) {
    stop(
      `crossprism needs Node.js ${wanted} or newer, and this is ${process.versions.node}: install a newer one and start again.`,
    );
  }
}

/**
 * True when node_modules holds what package-lock.json asks for. npm writes what it installed into a lock file of its
 * own; packages for other platforms are left out there, and are optional here.
 */
export function isInstalled() {
  const own = at("node_modules", ".package-lock.json");
  if (!existsSync(own)) return false;
  const wanted = JSON.parse(readFileSync(at("package-lock.json"), "utf8")).packages;
  const present = JSON.parse(readFileSync(own, "utf8")).packages;
  return Object.entries(wanted).every(([path, entry]) => {
    if (path === "" || entry.optional === true || entry.devOptional === true || entry.peer === true)
      return true;
    return present[path]?.version === entry.version && existsSync(at(path));
  });
}

/** Installs the dependencies where they are missing or changed; prefers what npm has kept, so that it works offline too. */
export async function ensureInstalled() {
  if (isInstalled()) return;
  process.stderr.write("Installing the dependencies named in package-lock.json (npm ci)…\n");
  const { code } = await run("npm", ["ci", "--prefer-offline", "--no-audit", "--no-fund"], {
    output: "stderr",
  });
  if (code !== 0)
    stop(`Installing the dependencies failed (npm ci ended with ${code}); its messages are above.`, code);
}

/**
 * Builds the parts of dist/ that are missing or older than their sources; says so on stderr, prints nothing else.
 * @param {readonly import("./fingerprint.mjs").Part[]} parts
 */
export async function ensureBuilt(parts) {
  if (staleParts(parts).length === 0) return;
  if (!existsSync(at("node_modules"))) {
    stop("crossprism is not built yet and its dependencies are not installed: run npm ci, then try again.");
  }
  const { code } = await run(process.execPath, [at("scripts/build.mjs"), "--if-stale", ...parts], {
    output: "stderr",
  });
  if (code !== 0)
    stop(
      `Building crossprism failed (node scripts/build.mjs ended with ${code}); its messages are above.`,
      code,
    );
}
