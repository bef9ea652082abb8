import { beforeEach, describe, expect, it } from "vitest";
import { type Bench, FIRST_VIEW } from "./bench.ts";
import { saveBench } from "./memory.ts";
import { openBench } from "./opening.ts";

const named = (title: string): Bench => ({ setup: { title, medium: { element: "Cs" } }, view: FIRST_VIEW });
const around = (changes: Partial<Parameters<typeof openBench>[0]> = {}) => ({
  hash: "",
  tab: "mine",
  storage: localStorage as Storage | undefined,
  served: () => Promise.resolve(undefined as unknown),
  demo: named("demo").setup as unknown,
  ...changes,
});
const titleOf = async (changes?: Parameters<typeof around>[0]): Promise<unknown> =>
  (await openBench(around(changes))).bench.setup["title"];

describe("opening", () => {
  beforeEach(() => localStorage.clear());

  it("goes from the demo to what was saved, to the served setup, to this tab's own", async () => {
    expect(await titleOf()).toBe("demo");
    saveBench(localStorage, "other", named("other tab"), 1);
    expect(await titleOf()).toBe("other tab");
    const served = () => Promise.resolve(named("served").setup as unknown);
    expect(await titleOf({ served })).toBe("served");
    saveBench(localStorage, "mine", named("my own"), 0);
    expect(await titleOf({ served })).toBe("my own");
  });

  it("works without storage and says what went wrong with a link or the server", async () => {
    const opening = await openBench(around({ storage: undefined, hash: "#bench=broken" }));
    expect(opening.bench.setup["title"]).toBe("demo");
    expect(opening.sentence).toMatch(/^The link is damaged/);
    const refused = await openBench(
      around({ served: () => Promise.reject(new Error("The setup file could not be fetched (410).")) }),
    );
    expect(refused.sentence).toBe("The setup file could not be fetched (410).");
  });
});
