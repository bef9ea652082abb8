// @vitest-environment node
import { describe, expect, it } from "vitest";
import { GLOSSARY } from "./glossary.ts";

const terms = GLOSSARY.flatMap((chapter) => chapter.terms);

describe("the glossary", () => {
  it("explains every word once, in whole sentences", () => {
    expect(new Set(terms.map(({ term }) => term)).size).toBe(terms.length);
    for (const { term, meaning } of terms) expect(meaning, term).toMatch(/[.]$/);
  });

  it("names a source for every formula that is not a definition", () => {
    const DEFINITIONS = ["column density", "column gradient", "scale height"];
    for (const { term, formula, source } of terms)
      if (formula !== undefined && !DEFINITIONS.includes(term)) expect(source, term).toMatch(/\S/);
  });
});
