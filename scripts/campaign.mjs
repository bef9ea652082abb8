/** Runs the long numerical campaigns in bench/campaign/ one after another: npm run campaign [-- NAME…]. */
import { runAll } from "./lib/run-all.mjs";

await runAll("bench/campaign", process.argv.slice(2));
