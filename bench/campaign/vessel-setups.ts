/**
 * Does every legal vessel give finite fields or a named refusal? Random vessels over the whole legal range, each solved
 * and checked by bench/lib/random-vessels.ts: finite, T and ψ within their boundary values, 0 ≤ x < 1, flows of metal
 * balanced to 1e-8. Prints every seed at fault, then a summary.
 *
 *   node --import tsx bench/campaign/vessel-setups.ts [COUNT] [FIRST SEED]
 */
import { judge, randomVessel } from "../lib/random-vessels.ts";

const [count = "4000", first = "1"] = process.argv.slice(2);
const kinds = new Map<string, number>();
let imbalance = 0;
let cycles = 0;
let faulty = 0;
const started = process.cpuUsage().user;
for (let seed = Number(first); seed < Number(first) + Number(count); seed++) {
  const outcome = judge(randomVessel(seed));
  kinds.set(outcome.kind, (kinds.get(outcome.kind) ?? 0) + 1);
  imbalance = Math.max(imbalance, outcome.imbalance);
  cycles = Math.max(cycles, outcome.cycles);
  if (outcome.faults.length === 0) continue;
  faulty++;
  console.log(`seed ${seed}: ${outcome.faults.join("; ")}`);
}
console.log(`${count} vessels from seed ${first}, ${faulty} at fault`);
for (const [kind, times] of [...kinds].sort((a, b) => b[1] - a[1])) console.log(`${kind}: ${times}`);
console.log(
  `largest imbalance of flows ${imbalance.toExponential(1)}, most V-cycles over all pressures ${cycles}`,
);
console.log(`${((process.cpuUsage().user - started) / 1e6).toFixed(0)} s of processor`);
if (faulty > 0) process.exitCode = 1;
