// @vitest-environment jsdom
import { beforeEach, describe, expect, it } from "vitest";
import { type Bench, FIRST_VIEW } from "./bench.ts";
import { latestBench, ownBench, saveBench } from "./memory.ts";

const named = (title: string): Bench => ({ setup: { title, medium: { element: "Cs" } }, view: FIRST_VIEW });

describe("memory of benches", () => {
  beforeEach(() => localStorage.clear());

  it("keeps tabs apart and offers the latest to a new one", () => {
    saveBench(localStorage, "one", named("first"), 10);
    saveBench(localStorage, "two", named("second"), 20);
    saveBench(localStorage, "one", named("first, changed"), 15);
    expect(ownBench(localStorage, "one")?.bench.setup["title"]).toBe("first, changed");
    expect(ownBench(localStorage, "two")?.bench.setup["title"]).toBe("second");
    expect(latestBench(localStorage)?.bench.setup["title"]).toBe("second");
    expect(ownBench(localStorage, "three")).toBeUndefined();
  });

  it("forgets the oldest tabs, never its own", () => {
    for (let i = 0; i < 12; i++) saveBench(localStorage, `tab ${i}`, named(`bench ${i}`), i);
    saveBench(localStorage, "late", named("mine"), -1);
    expect(localStorage.length).toBe(7);
    expect(ownBench(localStorage, "late")).toBeDefined();
    expect(ownBench(localStorage, "tab 11")).toBeDefined();
    expect(ownBench(localStorage, "tab 0")).toBeUndefined();
  });

  it("passes over what it cannot read", () => {
    localStorage.setItem("crossprism bench broken", "{");
    localStorage.setItem("something else", JSON.stringify({ savedAt: 99, bench: named("foreign") }));
    expect(latestBench(localStorage)).toBeUndefined();
  });
});
