/** A sample of the campaign bench/campaign/vessel-setups.ts: legal vessels anywhere in the range, seeded. */
import { expect, it } from "vitest";
import { judge, randomVessel } from "../../bench/lib/random-vessels.ts";

it("every legal vessel gives finite fields within their bounds, flows in balance, or a named refusal", () => {
  const seen = new Set<string>();
  for (let seed = 1; seed <= 80; seed++) {
    const outcome = judge(randomVessel(seed));
    seen.add(outcome.kind);
    expect(outcome.faults, `seed ${seed}: ${JSON.stringify(randomVessel(seed))}`).toEqual([]);
    expect(outcome.imbalance).toBeLessThan(1e-8);
  }
  for (const kind of ["diffusion", "heat-pipe", "stated"]) expect(seen).toContain(kind);
});
