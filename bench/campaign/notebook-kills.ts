/**
 * A thousand kills: the built program, while it writes into a notebook through the command line, through the page's
 * server or as a library, is ended by SIGKILL at random moments, one or two of them at once, in notebooks that are new
 * and in such of an earlier version. After each kill the database is checked whole and every entry acknowledged before
 * it is looked up, with its files.
 *
 *   node --import tsx bench/campaign/notebook-kills.ts [KILLS] [SEED] [BUILT]        default 1000 1 dist/node
 *
 * Kills come in rounds of forty, each with a seed of its own, and the sum is printed after each.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { killWriters } from "../lib/notebook-kills.ts";
import { DOORS } from "../lib/notebook-victims.ts";

const [kills = "1000", seed = "1", built = "dist/node"] = process.argv.slice(2);
const at = (path: string): string => fileURLToPath(new URL(path, new URL("../../", import.meta.url)));
const ROUND = 40;
const sum = { kills: 0, double: 0, early: 0, acknowledged: 0, unsaid: 0 };
const doors = { room: 0, commands: 0, server: 0 };
const faults: string[] = [];
const told = (): string =>
  `${sum.kills} kills (${DOORS.map((door) => `${door} ${doors[door]}`).join(", ")}), ${sum.double} of two writers at once, ${sum.early} before the first entry; ${sum.acknowledged} entries acknowledged, ${sum.unsaid} more whole that had not been; ${faults.length} faults`;

const folder = mkdtempSync(join(tmpdir(), "notebook-kills-"));
try {
  for (let round = 0; sum.kills < Number(kills); round++) {
    const counted = await killWriters({
      kills: Math.min(ROUND, Number(kills) - sum.kills),
      seed: Number(seed) + 1000 * round,
      folder,
      built: at(built),
      each: ROUND / 2,
      old: at("test/outside/fixtures/notebook/v1"),
    });
    for (const key of ["kills", "double", "early", "acknowledged", "unsaid"] as const)
      sum[key] += counted[key];
    for (const door of DOORS) doors[door] += counted.doors[door];
    faults.push(...counted.faults);
    console.log(told());
  }
  for (const fault of faults) console.log(`  ${fault}`);
  process.exitCode = faults.length === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
