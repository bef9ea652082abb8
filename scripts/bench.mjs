/** Runs every measurement in bench/ one after another: npm run bench [-- NAME…]. */
import { runAll } from "./lib/run-all.mjs";

await runAll("bench", process.argv.slice(2));
