#!/usr/bin/env node
// Starts the command line. In a checkout the Node side of dist/ is built first where it is missing or out of date.
import { existsSync } from "node:fs";

const program = new URL("../dist/node/cli.js", import.meta.url);
const checkout = new URL("../scripts/lib/ready.mjs", import.meta.url);

if (existsSync(checkout)) {
  const { ensureBuilt, requireNode } = await import(checkout.href);
  requireNode();
  await ensureBuilt(["node"]);
}
if (!existsSync(program)) {
  process.stderr.write("crossprism is not built here: run npm run build in its folder, then try again.\n");
  process.exit(1);
}
const { run } = await import(program.href);
process.exitCode = await run(process.argv.slice(2));
