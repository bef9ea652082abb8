/**
 * Which bench the page opens with, best first: a link, what this tab held before a reload, the setup the server was
 * started with, what was saved last in this browser, the demo.
 */
import { type Bench, benchFrom } from "./bench.ts";
import { latestBench, ownBench } from "./memory.ts";

export interface Opening {
  readonly bench: Bench;
  /** one sentence where something could not be opened */
  readonly sentence: string | undefined;
}

export interface Surroundings {
  readonly hash: string;
  readonly tab: string;
  readonly storage: Storage | undefined;
  /** the setup the server was started with; undefined without one */
  readonly served: () => Promise<unknown>;
  readonly demo: unknown;
}

/** Links are rare: what unfolds one is fetched when there is one. */
async function linkedBench(hash: string): Promise<unknown> {
  return hash === "" ? undefined : (await import("./link.ts")).fromHash(hash);
}

export async function openBench(around: Surroundings): Promise<Opening> {
  let sentence: string | undefined;
  try {
    const linked = benchFrom(await linkedBench(around.hash));
    if (linked !== undefined) return { bench: linked, sentence };
  } catch (fault) {
    sentence = fault instanceof Error ? fault.message : String(fault);
  }
  const own = around.storage === undefined ? undefined : ownBench(around.storage, around.tab);
  if (own !== undefined) return { bench: own.bench, sentence };
  try {
    const served = benchFrom(await around.served());
    if (served !== undefined) return { bench: served, sentence };
  } catch (fault) {
    sentence ??= fault instanceof Error ? fault.message : String(fault);
  }
  const latest = around.storage === undefined ? undefined : latestBench(around.storage);
  if (latest !== undefined) return { bench: latest.bench, sentence };
  const demo = benchFrom(around.demo);
  if (demo === undefined) throw new Error("the demo setup cannot be read");
  return { bench: demo, sentence };
}
