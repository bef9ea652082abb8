import { existsSync, readdirSync } from "node:fs";
import { cpus, platform, release } from "node:os";
import { at } from "./paths.mjs";
import { ensureBuilt, ensureInstalled, requireNode, stop } from "./ready.mjs";
import { run } from "./run.mjs";

/**
 * Runs each TypeScript file that lies directly in a folder, in the order of their names and never two at a time,
 * since they measure. Above each stands what one needs to repeat it: command, date, machine.
 *
 * @param {string} folder relative to the root
 * @param {readonly string[]} names without ".ts"; none means all
 */
export async function runAll(folder, names) {
  const present = existsSync(at(folder))
    ? readdirSync(at(folder))
        .filter((name) => name.endsWith(".ts") && !name.endsWith(".test.ts"))
        .map((name) => name.slice(0, -3))
    : [];
  const unknown = names.find((name) => !present.includes(name));
  if (unknown !== undefined)
    stop(`${folder}: expected one of ${present.join(", ") || "(none yet)"}, received ${unknown}.`, 2);
  requireNode();
  await ensureInstalled();
  await ensureBuilt(["node", "web"]);
  let failures = 0;
  for (const name of present.filter((one) => names.length === 0 || names.includes(one))) {
    const file = `${folder}/${name}.ts`;
    process.stdout.write(
      `\n── npx tsx ${file}\n   ${new Date().toISOString()}, Node.js ${process.versions.node}, ${platform()} ${release()}, ${cpus().length} × ${cpus()[0]?.model ?? "unknown processor"}\n`,
    );
    const { code, seconds } = await run(process.execPath, ["--import", "tsx", file]);
    process.stdout.write(`   ${seconds.toFixed(1)} s${code === 0 ? "" : `, ended with ${code}`}\n`);
    if (code !== 0) failures += 1;
  }
  process.exitCode = failures === 0 ? 0 : 1;
}
