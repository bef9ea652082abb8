// @vitest-environment node
import { describe, expect, it } from "vitest";
import { createPace } from "./pace.ts";

describe("pace", () => {
  it("takes a step at once when nothing is under way, and only the newest of those that had to wait", () => {
    const pace = createPace();
    const taken: string[] = [];
    const step = (name: string) => () => {
      taken.push(name);
      pace.begun();
    };
    pace.soon(step("a"));
    pace.soon(step("b"));
    pace.soon(step("c"));
    expect(taken).toEqual(["a"]);
    pace.done();
    expect(taken).toEqual(["a", "c"]);
    pace.done();
    expect(taken).toEqual(["a", "c"]);
    pace.soon(step("d"));
    expect(taken).toEqual(["a", "c", "d"]);
  });

  it("takes the waiting step when the hand lets go, once", () => {
    const pace = createPace();
    const taken: string[] = [];
    pace.begun();
    pace.soon(() => taken.push("last"));
    pace.flush();
    pace.done();
    expect(taken).toEqual(["last"]);
  });
});
