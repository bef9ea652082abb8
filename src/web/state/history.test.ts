// @vitest-environment node
import { describe, expect, it } from "vitest";
import { amend, beginHistory, push, redo, settle, undo } from "./history.ts";

describe("history", () => {
  it("takes steps back and forward in order", () => {
    let history = push(push(beginHistory("a"), "b", "to b"), "c", "to c");
    history = undo(history);
    expect(history.present.state).toBe("b");
    history = undo(undo(history));
    expect(history.present.state).toBe("a");
    history = redo(redo(history));
    expect(history.present).toMatchObject({ state: "c", label: "to c" });
    expect(redo(history)).toBe(history);
  });

  it("keeps a gesture as one step and ends it when settled", () => {
    let history = beginHistory(0);
    for (let i = 1; i <= 30; i++) history = push(history, i, "drag", "drag bottom");
    expect(history.past).toHaveLength(1);
    history = push(settle(history), 31, "drag", "drag bottom");
    expect(history.past).toHaveLength(2);
    expect(undo(history).present.state).toBe(30);
    expect(undo(undo(history)).present.state).toBe(0);
  });

  it("forgets the way forward after a new step, and keeps it when only the view is amended", () => {
    const back = undo(push(beginHistory("a"), "b", "to b"));
    expect(amend(back, "a, seen from above").future).toHaveLength(1);
    expect(push(back, "c", "to c").future).toHaveLength(0);
  });

  it("remembers no more than its limit", () => {
    let history = beginHistory(0);
    for (let i = 1; i <= 500; i++) history = push(history, i, "step");
    expect(history.past).toHaveLength(200);
  });
});
