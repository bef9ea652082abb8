/**
 * Builds dist/: `node` (command line, server and library for Node.js), `web` (the page) and `types` (declarations).
 *
 *   node scripts/build.mjs [--if-stale] [node] [web] [types]     all parts when none is named
 *
 * With --if-stale a part whose sources have not changed since it was built is left alone, and a missing build tool
 * is said and forgiven: an install for use only (npm ci --omit=dev) must not fail. Each part is built beside the old
 * one and put in its place when it is whole.
 */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { stripVTControlCharacters } from "node:util";
import { builtFrom, fingerprint, parts as allParts, staleParts } from "./lib/fingerprint.mjs";
import { alone } from "./lib/lock.mjs";
import { thirdPartyNotices } from "./lib/notices.mjs";
import { at, libraryRooms, root } from "./lib/paths.mjs";
import { run } from "./lib/run.mjs";

/** @typedef {import("./lib/fingerprint.mjs").Part} Part */

const words = process.argv.slice(2);
const ifStale = words.includes("--if-stale");
const named = words.filter((word) => !word.startsWith("--"));
const unknown = named.find((word) => !allParts.some((part) => part === word));
if (unknown !== undefined) {
  process.stderr.write(`build: expected one of ${allParts.join(", ")}, received ${unknown}.\n`);
  process.exit(2);
}
const asked = named.length > 0 ? allParts.filter((part) => named.includes(part)) : allParts;

const missing = ["vite", "typescript", "vite-plugin-solid"].filter((name) => !canResolve(name));
if (missing.length > 0) {
  process.stderr.write(
    `crossprism was not built, since its build tools (${missing.join(", ")}) are not installed: run npm ci with the development packages.\n`,
  );
  process.exit(ifStale ? 0 : 1);
}

try {
  await alone(async () => {
    // Asked again under the lock: another process may just have built the same.
    for (const part of ifStale ? staleParts(asked) : asked) {
      if (part === "web" && !existsSync(at("src/web/index.html"))) continue;
      await build(part);
    }
  });
} catch (error) {
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(`${stripVTControlCharacters(message)}\n`);
  process.exitCode = 1;
}

/** @param {Part} part */
async function build(part) {
  const started = performance.now();
  const hash = fingerprint(part);
  const fresh = at("dist", `.new-${part}`);
  rmSync(fresh, { recursive: true, force: true });
  mkdirSync(fresh, { recursive: true });
  if (part === "node") await buildNode(fresh);
  else if (part === "web") await buildWeb(fresh);
  else await buildTypes(fresh);
  const old = at("dist", `.old-${part}`);
  rmSync(old, { recursive: true, force: true });
  if (existsSync(at("dist", part))) renameSync(at("dist", part), old);
  renameSync(fresh, at("dist", part));
  rmSync(old, { recursive: true, force: true });
  writeFileSync(at("dist", ".hash"), `${JSON.stringify({ ...builtFrom(), [part]: hash }, null, 2)}\n`);
  process.stderr.write(`built dist/${part} in ${((performance.now() - started) / 1000).toFixed(1)} s\n`);
}

/** Command line, server and library: our own code and data bundled, packages left as imports. @param {string} outDir */
async function buildNode(outDir) {
  const { build: viteBuild } = await import("vite");
  const entries = Object.fromEntries(libraryRooms.map((room) => [room, at("src", room, "index.ts")]));
  if (existsSync(at("src/index.ts"))) entries["index"] = at("src/index.ts");
  if (existsSync(at("src/cli/main.ts"))) entries["cli"] = at("src/cli/main.ts");
  // The command line starts it by name as a worker thread.
  if (existsSync(at("src/cli/work.ts"))) entries["work"] = at("src/cli/work.ts");
  await viteBuild({
    configFile: false,
    root,
    logLevel: "warn",
    json: { namedExports: false },
    build: {
      ssr: true,
      outDir,
      emptyOutDir: false,
      target: "node20",
      minify: false,
      sourcemap: true,
      copyPublicDir: false,
      // Every file lies directly in dist/node/, so that new URL("../web/", import.meta.url) holds from any of them.
      rolldownOptions: {
        input: entries,
        output: { entryFileNames: "[name].js", chunkFileNames: "[name]-[hash].js" },
      },
    },
  });
}

/** The page, with its worker, data and fonts. @param {string} outDir */
async function buildWeb(outDir) {
  const { build: viteBuild } = await import("vite");
  await viteBuild({
    configFile: at("vite.config.ts"),
    logLevel: "warn",
    plugins: [thirdPartyNotices()],
    build: { outDir, emptyOutDir: true },
  });
}

/** Declarations of the library. They are written even where types clash; `npm test` is what fails on that. @param {string} outDir */
async function buildTypes(outDir) {
  const tsc = createRequire(import.meta.url).resolve("typescript/bin/tsc");
  const { code, text } = await run(process.execPath, [tsc, "-p", "tsconfig.build.json", "--outDir", outDir], {
    output: "keep",
  });
  if (code !== 0) process.stderr.write(`${text}Declarations were written in spite of the errors above.\n`);
  copyNamedData(outDir);
}

/** Types taken from a data file name it in the declarations, so it must lie where they look. @param {string} outDir */
function copyNamedData(outDir) {
  const declarations = readdirSync(outDir, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".d.ts"),
  );
  for (const name of declarations) {
    const text = readFileSync(`${outDir}/${name}`, "utf8");
    // The compiler drops the attribute that it asks for when it reads a declaration back.
    const whole = text.replace(/from ("(?:\.\.\/)+(data\/[\w-]+\.json)");/g, (_all, quoted, file) => {
      mkdirSync(`${outDir}/data`, { recursive: true });
      copyFileSync(at(file), `${outDir}/${file}`);
      return `from ${quoted} with { type: "json" };`;
    });
    if (whole !== text) writeFileSync(`${outDir}/${name}`, whole);
  }
}

/** @param {string} name */
function canResolve(name) {
  return existsSync(at("node_modules", name, "package.json"));
}
