/**
 * One command from a fresh clone to the open page: checks Node.js, installs and builds what is missing, starts the
 * local server with the demonstration setup and stays until it is stopped. Arguments go to `crossprism open`:
 *
 *   npm start                                  the demonstration
 *   npm start -- examples/potassium.json --port 8080
 */
import { ensureBuilt, ensureInstalled, requireNode } from "./lib/ready.mjs";
import { at } from "./lib/paths.mjs";
import { run } from "./lib/run.mjs";

requireNode();
await ensureInstalled();
await ensureBuilt(["node", "web"]);

const args = process.argv.slice(2);
if (!hasDesktop() && !args.includes("--no-browser")) args.push("--no-browser");
const { code } = await run(process.execPath, [at("bin/crossprism.js"), "open", ...args]);
process.exitCode = code;

/** Whether a browser window could come up here: never under CI, and on Linux only where a display is set. */
function hasDesktop() {
  if (process.env.CI) return false;
  if (process.platform === "darwin" || process.platform === "win32") return true;
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}
