import { describe, expect, it } from "vitest";
import { examineSetup, parseJsonObject, SETUP_VERSION } from "../../src/setup/index.ts";
import { projectFiles, textOf } from "./tree.ts";

const examples = projectFiles().filter((name) => /^examples\/(?!media\/).*\.json$/.test(name));

describe("the setups to start from", () => {
  it("are there", () => {
    expect(examples.length).toBeGreaterThan(3);
  });

  it.each(examples)("%s is a setup without a fault, of the present version, and says what it is", (name) => {
    const { setup, faults } = examineSetup(parseJsonObject(textOf(name), name));
    expect(faults).toEqual([]);
    expect(setup?.version).toBe(SETUP_VERSION);
    expect(setup?.title).not.toBe("");
    expect(setup?.notes).not.toBe("");
  });
});
