// @vitest-environment node
import { describe, expect, it } from "vitest";
import { valueAt, withValue } from "./setup-text.ts";

const setup = { title: "t", vessel: { bore: "40 mm" } };

describe("setup text", () => {
  it("reads a value, and nothing where the file is silent or holds a group", () => {
    expect(valueAt(setup, "vessel.bore")).toBe("40 mm");
    expect(valueAt(setup, "vessel.top")).toBeUndefined();
    expect(valueAt(setup, "vessel")).toBeUndefined();
    expect(valueAt(setup, "title.of.nothing")).toBeUndefined();
  });

  it("sets and removes values without touching its input", () => {
    const next = withValue(setup, "path.source.kind", "halogen");
    expect(next).toEqual({ ...setup, path: { source: { kind: "halogen" } } });
    expect(withValue(next, "vessel.bore", undefined)).toEqual({
      title: "t",
      vessel: {},
      path: { source: { kind: "halogen" } },
    });
    expect(setup).toEqual({ title: "t", vessel: { bore: "40 mm" } });
  });
});
