/**
 * A thousand kills: programs that write into a notebook are ended by SIGKILL at random moments, one or two of them at
 * once, in notebooks that are new and in such of an earlier version. After each kill the database is checked whole and
 * every entry acknowledged before it is looked up, with its files.
 *
 *   node --import tsx bench/campaign/notebook-kills.ts [KILLS] [SEED] [MODULE]        default 1000 1 dist/node/notebook.js
 *
 * MODULE is what is killed: the notebook room, built. Kills come in rounds of forty, each with a seed of its own, and the
 * sum is printed after every fifth round.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { killWriters } from "../lib/notebook-kills.ts";

const [kills = "1000", seed = "1", module = "dist/node/notebook.js"] = process.argv.slice(2);
const at = (path: string): string => fileURLToPath(new URL(path, new URL("../../", import.meta.url)));
const ROUND = 40;
const sum = { kills: 0, double: 0, early: 0, acknowledged: 0, unsaid: 0 };
const faults: string[] = [];
const told = (): string =>
  `${sum.kills} kills, ${sum.double} of two writers at once, ${sum.early} before the first entry; ${sum.acknowledged} entries acknowledged, ${sum.unsaid} more whole that had not been; ${faults.length} faults`;

const folder = mkdtempSync(join(tmpdir(), "notebook-kills-"));
try {
  for (let round = 0; sum.kills < Number(kills); round++) {
    const counted = await killWriters({
      kills: Math.min(ROUND, Number(kills) - sum.kills),
      seed: Number(seed) + 1000 * round,
      folder,
      module: at(module),
      each: ROUND / 2,
      old: at("test/outside/fixtures/notebook/v1"),
    });
    for (const key of ["kills", "double", "early", "acknowledged", "unsaid"] as const)
      sum[key] += counted[key];
    faults.push(...counted.faults);
    if (round % 5 === 4) console.log(told());
  }
  console.log(told());
  for (const fault of faults) console.log(`  ${fault}`);
  process.exitCode = faults.length === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
