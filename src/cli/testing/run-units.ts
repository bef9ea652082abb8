/** For a test that kills it: works on a job with two workers and tells how many units are done. */
import type { Job } from "../../plan/index.ts";
import { runUnits } from "../units.ts";

const [job = "", keep = ""] = process.argv.slice(2);
await runUnits(JSON.parse(job) as Job, {
  workers: 2,
  keep,
  progress: (done) => process.stdout.write(`${done}\n`),
});
