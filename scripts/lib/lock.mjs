import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { at } from "./paths.mjs";

const folder = at("dist", ".lock");

/**
 * Runs `work` while no other process builds: making a folder either succeeds or fails, for one process only.
 * A lock whose owner is gone is taken over.
 *
 * @param {() => Promise<void>} work
 */
export async function alone(work) {
  mkdirSync(at("dist"), { recursive: true });
  while (!take()) await wait(200);
  try {
    await work();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function take() {
  try {
    mkdirSync(folder);
    writeFileSync(`${folder}/pid`, String(process.pid));
    return true;
  } catch (error) {
    if (/** @type {NodeJS.ErrnoException} */ (error).code !== "EEXIST") throw error;
    if (ownerIsGone()) rmSync(folder, { recursive: true, force: true });
    return false;
  }
}

function ownerIsGone() {
  let pid;
  try {
    pid = Number(readFileSync(`${folder}/pid`, "utf8"));
  } catch {
    pid = 0; // being made or given up at this moment, unless it stays so
  }
  if (pid === 0) return olderThan(60);
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return /** @type {NodeJS.ErrnoException} */ (error).code === "ESRCH";
  }
}

/** @param {number} seconds */
function olderThan(seconds) {
  const made = statSync(folder, { throwIfNoEntry: false })?.mtimeMs;
  return made !== undefined && Date.now() - made > seconds * 1000;
}
