/**
 * Everything that must hold before a change is kept: set-up on a fresh clone, lint, types, dead code, documents,
 * tests and browser tests. Prints the time of each step and ends with the line "N passed, N failed", where each
 * test case counts as one and each other step as one.
 *
 *   npm test                        all of it
 *   npm test -- --only lint         lint, types, dead code
 *   npm test -- --only unit         documents, unit tests, checks against published values
 *   npm test -- --only browser      tests in a browser
 */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { at } from "./lib/paths.mjs";
import { ensureInstalled, requireNode, stop } from "./lib/ready.mjs";
import { run } from "./lib/run.mjs";

/** @typedef {{ group: "lint" | "unit" | "browser" | "all"; title: string; command: string[]; counts?: true }} Step */

/** @type {readonly Step[]} */
const steps = [
  { group: "all", title: "build", command: [at("scripts/build.mjs"), "--if-stale"] },
  { group: "lint", title: "format and quick lint", command: [tool("@biomejs/biome", "biome"), "check", "."] },
  { group: "lint", title: "typed lint", command: [tool("eslint", "eslint"), ".", "--max-warnings", "0"] },
  {
    group: "lint",
    title: "import rule",
    command: [tool("dependency-cruiser", "depcruise"), "--config", ".dependency-cruiser.cjs", "src"],
  },
  { group: "lint", title: "types", command: [tool("typescript", "tsc"), "-p", "tsconfig.json"] },
  {
    group: "lint",
    title: "types of the scripts",
    command: [tool("typescript", "tsc"), "-p", "scripts/tsconfig.json"],
  },
  { group: "lint", title: "dead code and dependencies", command: [tool("knip", "knip"), "--no-progress"] },
  { group: "unit", title: "house and documents", command: vitest("test/house"), counts: true },
  {
    group: "unit",
    title: "unit and outside tests",
    command: vitest("src", "test/outside", "test/chain"),
    counts: true,
  },
  {
    group: "browser",
    title: "browser tests",
    command: vitest("--config", "vitest.browser.config.ts"),
    counts: true,
  },
];

const only = wish(process.argv.slice(2));
requireNode();
await ensureInstalled();

const scratch = mkdtempSync(join(tmpdir(), "crossprism-test-"));
let passed = 0;
let failed = 0;
/** @type {string[]} */
const lines = [];
for (const [index, step] of steps.entries()) {
  if (only !== undefined && step.group !== only && step.group !== "all") continue;
  process.stdout.write(`\n── ${step.title}\n`);
  const report = join(scratch, `${index}.json`);
  const extra = step.counts ? ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`] : [];
  const { code, seconds } = await run(process.execPath, [...step.command, ...extra]);
  if (code === 130 || code === 143) stop("Interrupted.", code);
  const count = step.counts
    ? countCases(report, code)
    : { passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1 };
  passed += count.passed;
  failed += count.failed;
  const verdict = count.failed === 0 ? "passed" : "FAILED";
  const cases = step.counts ? `  (${count.passed} of ${count.passed + count.failed})` : "";
  lines.push(`${seconds.toFixed(1).padStart(7)} s  ${verdict}  ${step.title}${cases}`);
}
rmSync(scratch, { recursive: true, force: true });
process.stdout.write(`\n${lines.join("\n")}\n\n${passed} passed, ${failed} failed\n`);
process.exitCode = failed === 0 && passed > 0 ? 0 : 1;

/**
 * Test cases in a report. A file that could not be loaded has no cases of its own and counts as one failed; so does
 * a run that ended badly without saying why, or that ran nothing.
 *
 * @param {string} report file in Vitest's JSON form
 * @param {number} code exit status of the run
 */
function countCases(report, code) {
  let ok = 0;
  let bad = 0;
  try {
    const { testResults } = JSON.parse(readFileSync(report, "utf8"));
    for (const file of testResults) {
      const states = file.assertionResults.map((/** @type {{ status: string }} */ test) => test.status);
      ok += states.filter((/** @type {string} */ state) => state === "passed").length;
      const failures = states.filter((/** @type {string} */ state) => state === "failed").length;
      bad += failures === 0 && file.status === "failed" ? 1 : failures;
    }
  } catch {
    bad = 1; // no report: the runner itself fell over
  }
  if (bad === 0 && (code !== 0 || ok === 0)) bad = 1;
  return { passed: ok, failed: bad };
}

/** @param {...string} args @returns {string[]} */
function vitest(...args) {
  return [tool("vitest", "vitest"), "run", "--allowOnly=false", ...args];
}

/** The script behind a package's command. Works before node_modules is there, since it only puts words together. */
function tool(/** @type {string} */ name, /** @type {string} */ command) {
  const places = /** @type {Record<string, string>} */ ({
    biome: "bin/biome",
    eslint: "bin/eslint.js",
    depcruise: "bin/dependency-cruise.mjs",
    tsc: "bin/tsc",
    knip: "bin/knip.js",
    vitest: "vitest.mjs",
  });
  return at("node_modules", name, places[command]);
}

/** The group asked for with --only; undefined means all. @param {readonly string[]} args */
function wish(args) {
  if (args.length === 0) return undefined;
  const [option, value] = args.length === 1 ? args[0].split("=") : args;
  if (option !== "--only" || args.length > 2 || !["lint", "unit", "browser"].includes(value)) {
    stop(`test: expected nothing or --only lint, unit or browser, received ${args.join(" ")}.`, 2);
  }
  return value;
}
